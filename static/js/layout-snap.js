// Where a thing that is moved by hand comes to lie: on the nearest edge, gap, rail or middle within reach.
// Everything in mm of the frame, boxes as [x0, y0, x1, y1]; what fits is the server's to say, not this file's.
globalThis.boardshopSnap = (() => {
  "use strict";

  const AXES = [{ low: 0, high: 2, otherLow: 1, otherHigh: 3 }, { low: 1, high: 3, otherLow: 0, otherHigh: 2 }];

  // The shift along x and y that snaps `moved`, and the lines that it snaps to, each { axis, at }.
  function snap(moved, still, hand, reach) {
    const found = AXES.map((axis, index) => {
      const goals = [...goalsBeside(axis, moved, still, hand), ...goalsOfFrame(axis, index, moved, hand), ...goalsInLine(axis, moved, still)];
      const near = goals.filter((goal) => Math.abs(goal.shift) <= reach);
      const least = Math.min(...near.map((goal) => Math.abs(goal.shift)));
      const best = near.find((goal) => Math.abs(goal.shift) === least);
      if (!best) return { shift: 0, lines: [] };
      const same = near.filter((goal) => goal.shift === best.shift).map((goal) => ({ axis: index, at: goal.at }));
      return { shift: best.shift, lines: same };
    });
    return { x: found[0].shift, y: found[1].shift, lines: [...found[0].lines, ...found[1].lines] };
  }

  const goal = (edge, at) => ({ shift: at - edge, at });

  // Edge against edge with what has to stay free between them, of things that meet along the other axis.
  function goalsBeside(axis, moved, still, hand) {
    const pairs = [
      [moved.bodies, still.bodies, hand.gap],
      [moved.bodies, still.plugs, hand.plugGap],
      [moved.bodies, hand.kept, 0],
      [moved.plugs, still.bodies, hand.plugGap],
      [moved.plugs, still.plugs, hand.plugGap],
      [moved.plugs, hand.kept, hand.plugGap],
    ];
    return pairs.flatMap(([own, others, gap]) => own.flatMap((box) => others
      .filter((other) => box[axis.otherLow] < other[axis.otherHigh] + gap && other[axis.otherLow] < box[axis.otherHigh] + gap)
      .flatMap((other) => [goal(box[axis.low], other[axis.high] + gap), goal(box[axis.high], other[axis.low] - gap)])));
  }

  // The frame's edges and middle; in depth its rails and tiers as well.
  function goalsOfFrame(axis, index, moved, hand) {
    const size = hand.frame[index];
    const bodies = moved.bodies.flatMap((box) => [goal(box[axis.low], 0), goal(box[axis.high], size)]);
    const plugs = moved.plugs.flatMap((box) => [goal(box[axis.low], hand.plugGap), goal(box[axis.high], size - hand.plugGap)]);
    const depths = index === 1 ? [...hand.depths, ...hand.tiers] : [];
    const bands = moved.bodies.flatMap((box) => depths.flatMap((at) => [goal(box[axis.low], at), goal(box[axis.high], at)]));
    const low = Math.min(...moved.bodies.map((box) => box[axis.low])), high = Math.max(...moved.bodies.map((box) => box[axis.high]));
    const middle = { shift: Math.round((size - low - high) / 2), at: size / 2 };
    return [...bodies, ...plugs, ...bands, middle];
  }

  // In line with the edges and the middle of another body, wherever it lies.
  function goalsInLine(axis, moved, still) {
    return moved.bodies.flatMap((box) => still.bodies.flatMap((other) => [
      goal(box[axis.low], other[axis.low]),
      goal(box[axis.high], other[axis.high]),
      { shift: Math.round((other[axis.low] + other[axis.high] - box[axis.low] - box[axis.high]) / 2), at: (other[axis.low] + other[axis.high]) / 2 },
    ]));
  }

  return snap;
})();
