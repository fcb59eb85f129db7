"""Findings about where a pedal stands, other than against another pedal: amp, loop, control leads, levels."""

from collections.abc import Iterator
from math import fsum

from boardshop.core.findings import Finding
from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.naming import called
from boardshop.core.order.conditions import (
    Missing,
    all_of,
    drives_low,
    has_high_pot,
    is_passive,
    not_,
)
from boardshop.core.order.engaged import Acting, acts
from boardshop.core.order.graph import CONTROL_KINDS, signal_links
from boardshop.core.order.paths import SignalPath, signal_paths
from boardshop.core.order.ranks import DRIVES, FUZZES, MODULATIONS, TAILS, VOLUMES
from boardshop.core.order.standing_rules import STANDING_RULES
from boardshop.core.order.wording import Gap, say_gaps, say_refs
from boardshop.core.plan import Amp, BoardPlan, Jack, Pedal, Source

type Remark = Finding | Gap

OUT_OF_LOOP = (*FUZZES, *DRIVES, "wah", "compressor", "tuner")
LATENCY_ADVICE_MS, LATENCY_CAUTION_MS = 6, 10
"""Above these a player begins to feel the converters' delay; common practice."""


def check_places(plan: BoardPlan, acting: Acting = None) -> tuple[Finding, ...]:
    """Of the whole board, or of the pedals that act in a scene."""
    index = index_plan(plan)
    remarks: list[Remark] = [*_control_in_audio(plan, index), *_levels(plan, index), *_phantom(plan, index)]
    for path in signal_paths(plan):
        remarks += _low_pot(index, path)
        for check in (_speaker_twice, _before_the_amp, _in_the_loop, _tails_in_switcher, _latency):
            remarks += check(index, path, acting)
    findings = dict.fromkeys(remark for remark in remarks if isinstance(remark, Finding))
    return (*findings, *say_gaps(index, (remark for remark in remarks if isinstance(remark, Gap))))


def _control_in_audio(plan: BoardPlan, index: PlanIndex) -> Iterator[Finding]:
    """R37; an expression treadle with a recorded volume role doubles as a passive volume and may stay."""
    for link in signal_links(plan):
        ends = tuple(split_end(end)[0] for end in (link.source, link.target))
        for ref in ends:
            pedal = index.pedals.get(fold(ref))
            if pedal is None or pedal.kind not in CONTROL_KINDS:
                continue
            if pedal.kind == "expression" and pedal.role in ("input", "swell", "master"):
                continue
            yield STANDING_RULES["R37"].finding(
                tuple(_spelled(index, end) for end in ends),
                f"{say_refs(index, ends)} are joined by a signal link ({link.ref}), but {called(index, ref)} "
                "only controls other pedals and passes no sound.",
                f"Take {called(index, ref)} out of the signal and join it by a control or MIDI link; if it "
                "doubles as a volume pedal, record that role.",
            )


def _levels(plan: BoardPlan, index: PlanIndex) -> Iterator[Remark]:
    """Line level against instrument level, link by link, where one of the two is line."""
    for link in signal_links(plan):
        given, taken = _level_of(index, link.source), _level_of(index, link.target)
        if "line" not in (given, taken) or given == taken:
            continue
        ends = tuple(_spelled(index, split_end(end)[0]) for end in (link.source, link.target))
        hot = "a line level can be ten times what an instrument input expects and clips it"
        low = "an instrument's level is so low for a line input that its hiss comes up with it"
        risk = hot if given == "line" else low
        if given is None or taken is None:
            owner = ends[0] if given is None else ends[1]
            yield Gap("LEVEL", Missing(owner, "level"), ends, risk, "suit each other in level")
            continue
        yield STANDING_RULES["LEVEL"].finding(
            ends,
            f"{called(index, ends[0])} gives {given} level to {called(index, ends[1])}, which expects "
            f"{taken} level: {risk}.",
            "Set the level switch of one of them to suit the other, or put a level converter between.",
        )


def _phantom(plan: BoardPlan, index: PlanIndex) -> Iterator[Finding]:
    """PHANTOM: an XLR output that leads off the board may meet a desk's 48 V, unless it is a di's."""
    for link in signal_links(plan):
        jack, pedal = index.jacks.get(fold(link.source)), index.pedals.get(fold(split_end(link.source)[0]))
        end = _spelled(index, split_end(link.target)[0])
        if pedal is None or pedal.kind == "di" or fold(end) in index.pedals:
            continue
        if isinstance(jack, Jack) and jack.connector == "XLR":
            yield STANDING_RULES["PHANTOM"].finding(
                (pedal.ref, end),
                f"{called(index, pedal.ref)} leads to {end} by an XLR jack, and nobody recorded whether "
                "phantom power can reach it there: 48 V on a pedal's output can destroy it.",
                f"Put a di or a transformer between {called(index, pedal.ref)} and {end}, or see that "
                "phantom power is off on that channel before you plug in, and keep this with that reason.",
                "unknown",
            )


def _level_of(index: PlanIndex, end: str) -> str | None:
    part = index.signal_parts.get(fold(split_end(end)[0]))
    if isinstance(part, Amp):
        return next((jack.level for jack in part.jacks if fold(f"{part.ref}.{jack.name}") == fold(end)), None)
    return part.level if isinstance(part, Pedal) else "instrument"


def _low_pot(index: PlanIndex, path: SignalPath) -> Iterator[Remark]:
    """R27: a passive low-value volume needs a buffer, or an active source, in front of it."""
    source = index.signal_parts.get(fold(split_end(path.start or "")[0]))
    if not isinstance(source, Source):
        return
    for position, (volume, slot) in enumerate(zip(path.pedals, path.slots, strict=True)):
        if slot not in VOLUMES:
            continue
        before = [not_(drives_low(pedal)) for pedal in path.pedals[:position]]
        answer = all_of(is_passive(volume), not_(has_high_pot(volume)), _is_bare(source), *before)
        if answer is False:
            continue
        subjects = (source.ref, volume.ref)
        why = STANDING_RULES["R27"].why
        if isinstance(answer, Missing):
            yield Gap("R27", answer, subjects, why, "suit each other without a buffer between them")
            continue
        yield STANDING_RULES["R27"].finding(
            subjects,
            f"{called(index, volume.ref)} follows {source.ref} with no buffer in front of it: {why}.",
            f"Put a buffer in front of {called(index, volume.ref)}, or use another treadle.",
        )


def _is_bare(source: Source) -> bool | Missing:
    if source.output_ohm is not None:
        return False
    return True if source.pickup is not None else Missing(source.ref, "output_ohm")


def _speaker_twice(index: PlanIndex, path: SignalPath, acting: Acting) -> Iterator[Remark]:
    """R31; a simulator that the player never engages is bypassed, but for the scenes that engage it."""
    amp = _amp_at_end(index, path)
    if amp is None or amp.speaker == "full-range":
        return
    for pedal in path.pedals:
        is_engaged = pedal.on is not False if acting is None else acts(acting, pedal)
        if pedal.kind != "cab-simulator" or not is_engaged:
            continue
        why = STANDING_RULES["R31"].why
        if amp.speaker is None:
            yield Gap("R31", Missing(amp.ref, "speaker"), (pedal.ref, amp.ref), why, "may be joined")
            continue
        yield STANDING_RULES["R31"].finding(
            (pedal.ref, amp.ref),
            f"{called(index, pedal.ref)} leads into {amp.ref}, which has a guitar speaker: {why}.",
            f"Bypass {called(index, pedal.ref)} for {amp.ref}, or lead it to a full-range speaker.",
        )


def _before_the_amp(index: PlanIndex, path: SignalPath, acting: Acting) -> Iterator[Remark]:
    """R35: with a loop to use, what belongs behind the preamp's gain need not stand in front of it."""
    amp = _amp_at_end(index, path)
    if amp is None or path.in_loop or amp.speaker == "full-range" or not _has_loop(amp, path.end or ""):
        return
    for pedal in path.pedals:
        if pedal.kind not in (*TAILS, *MODULATIONS) or not acts(acting, pedal):
            continue
        why = STANDING_RULES["R35"].why
        stereo = True if pedal.kind in TAILS else _is_stereo(pedal)
        if isinstance(stereo, Missing):
            yield Gap("R35", stereo, (pedal.ref, amp.ref), why, "suit each other without the loop")
        elif stereo:
            yield STANDING_RULES["R35"].finding(
                (pedal.ref, amp.ref),
                f"{called(index, pedal.ref)} stands in front of {amp.ref}, which has a loop: {why}.",
                f"Move {called(index, pedal.ref)} into its loop, or keep it if the amp runs clean.",
            )


def _is_stereo(pedal: Pedal) -> bool | Missing:
    outputs = [jack for jack in pedal.jacks if jack.role == "out"]
    if len(outputs) > 1 or any(jack.channels == "stereo" for jack in outputs):
        return True
    unknown = any(jack.channels is None and jack.connector != "6.35 TS" for jack in outputs)
    return Missing(pedal.ref, "channels") if unknown else False


def _in_the_loop(index: PlanIndex, path: SignalPath, acting: Acting) -> Iterator[Remark]:
    """R36; a pedal rated for line level may stay."""
    if not path.in_loop or path.start is None:
        return
    amp = _spelled(index, split_end(path.start)[0])
    for pedal, slot in zip(path.pedals, path.slots, strict=True):
        if slot not in OUT_OF_LOOP or pedal.level == "line" or not acts(acting, pedal):
            continue
        why = STANDING_RULES["R36"].why
        if pedal.level is None:
            asked = "suit each other, the pedal being in the amp's loop"
            yield Gap("R36", Missing(pedal.ref, "level"), (pedal.ref, amp), why, asked)
            continue
        yield STANDING_RULES["R36"].finding(
            (pedal.ref, amp),
            f"{called(index, pedal.ref)} stands in the loop of {amp}: {why}.",
            f"Move {called(index, pedal.ref)} in front of {amp}.",
        )


def _tails_in_switcher(index: PlanIndex, path: SignalPath, acting: Acting) -> Iterator[Remark]:
    """R42; a pedal fed by a send alone rings on and is on a path of its own."""
    for position, switcher in enumerate(path.pedals):
        if switcher.kind != "switcher":
            continue
        for pedal in path.pedals[position + 1 : path.acts_after[position] + 1]:
            if not acts(acting, pedal):
                continue
            subjects = (switcher.ref, pedal.ref)
            why = STANDING_RULES["R42"].why
            if pedal.tails is None and pedal.kind in TAILS:
                asked = "suit each other, the pedal being in a switched loop"
                yield Gap("R42", Missing(pedal.ref, "tails"), subjects, why, asked)
            elif pedal.tails:
                yield STANDING_RULES["R42"].finding(
                    subjects,
                    f"{called(index, pedal.ref)} lets its repeats ring on, but stands in a loop of "
                    f"{called(index, switcher.ref)}: {why}.",
                    f"Move {called(index, pedal.ref)} behind {called(index, switcher.ref)}, use a loop that "
                    "only switches the send, or keep it if the dead stop is wanted.",
                )


def _latency(index: PlanIndex, path: SignalPath, acting: Acting) -> Iterator[Remark]:
    """R45: the converters' delays of two or more digital pedals in a row add."""
    digital = [
        pedal
        for pedal in path.pedals
        if (pedal.latency_ms or pedal.circuit == "digital") and acts(acting, pedal)
    ]
    if len(digital) < 2:
        return
    rule = STANDING_RULES["R45"]
    why = rule.why
    refs = tuple(pedal.ref for pedal in digital)
    for pedal in digital:
        if pedal.latency_ms is None:
            yield Gap("R45", Missing(pedal.ref, "latency_ms"), refs, why, "answer quickly enough together")
    total = fsum(pedal.latency_ms or 0 for pedal in digital)
    if total > LATENCY_ADVICE_MS:
        yield rule.finding(
            refs,
            f"{say_refs(index, refs)} delay the sound by {total:g} ms together: {why}.",
            "Put the ones that are not always needed in a bypassed loop, or use an analog one instead.",
            "caution" if total > LATENCY_CAUTION_MS else "",
        )


def _amp_at_end(index: PlanIndex, path: SignalPath) -> Amp | None:
    part = index.signal_parts.get(fold(split_end(path.end or "")[0]))
    return part if isinstance(part, Amp) else None


def _has_loop(amp: Amp, end: str) -> bool:
    """Whether ``end`` is the amp's own input and a loop follows its preamp."""
    roles = [jack.role for jack in amp.jacks]
    arrives = next((jack.role for jack in amp.jacks if fold(f"{amp.ref}.{jack.name}") == fold(end)), "")
    return arrives == "in" and "send" in roles and "return" in roles


def _spelled(index: PlanIndex, ref: str) -> str:
    part = index.signal_parts.get(fold(ref))
    return part.ref if part is not None else ref
