-- Everything that is stored of one board, as one JSON object: see stored.py.
-- Rows come whole; the rows that belong to a row stand in it as lists, in the order of their position.
-- Where two tables make one thing, `rows` holds the row of each, and stored.py puts them together: JSON is
-- written as text here, which costs a third less than building and joining jsonb.
-- Pedals, supplies and the frame come as texts of their own, which stored.py knows again when they come again.
WITH board AS (SELECT * FROM boards_board WHERE id = %(board)s),
     item AS (SELECT * FROM boards_item WHERE board_id = %(board)s)
SELECT json_build_object(
  'board', json_build_object(
    'name', board.name, 'note', board.note, 'rules', board.rules, 'incomplete', board.incomplete,
    'venue_mv', board.venue_mv, 'venue_hz', board.venue_hz, 'venue_plug', board.venue_plug),
  'frame', (SELECT row_to_json(frame)::text FROM boards_frame frame WHERE frame.board_id = board.id),
  'pedals', ARRAY(
    SELECT json_build_object(
      'rows', ARRAY[row_to_json(item), row_to_json(placement)],
      'model', row_to_json(model),
      'unit', row_to_json(unit),
      'jack_rows', ARRAY(
        SELECT row_to_json(jack) FROM gear_pedaljack jack
        WHERE jack.model_id = model.id ORDER BY jack.position, jack.id),
      'switch_rows', ARRAY(
        SELECT row_to_json(switch) FROM gear_pedalswitch switch
        WHERE switch.model_id = model.id ORDER BY switch.position, switch.id),
      'power_rows', ARRAY(
        SELECT row_to_json(jack) FROM gear_powerjack jack
        WHERE jack.model_id = model.id ORDER BY jack.position, jack.id),
      'draw_rows', ARRAY(
        SELECT row_to_json(draw) FROM gear_unitdraw draw WHERE draw.unit_id = unit.id),
      'together_refs', ARRAY(
        SELECT other.ref FROM boards_placement_together pair
        JOIN item other ON other.id = pair.to_placement_id
        WHERE pair.from_placement_id = item.id ORDER BY other.position, other.id))::text
    FROM item
    JOIN boards_placement placement ON placement.item_ptr_id = item.id
    JOIN gear_pedalmodel model ON model.id = placement.model_id
    LEFT JOIN gear_unit unit ON unit.id = placement.unit_id
    ORDER BY item.position, item.id),
  'supplies', ARRAY(
    SELECT json_build_object(
      'rows', ARRAY[row_to_json(item), row_to_json(placement)],
      'model', row_to_json(model),
      'outlet_rows', ARRAY(
        SELECT to_jsonb(outlet) || jsonb_build_object('settings', ARRAY(
          SELECT row_to_json(setting) FROM gear_outletsetting setting
          WHERE setting.outlet_id = outlet.id ORDER BY setting.position, setting.id))
        FROM gear_outlet outlet
        WHERE outlet.supply_id = model.id ORDER BY outlet.position, outlet.id),
      'lead_rows', ARRAY(
        SELECT row_to_json(lead) FROM gear_supplylead lead
        WHERE lead.supply_id = model.id ORDER BY lead.position, lead.id))::text
    FROM item
    JOIN boards_supplyplacement placement ON placement.item_ptr_id = item.id
    JOIN gear_supplymodel model ON model.id = placement.model_id
    ORDER BY item.position, item.id),
  'sources', ARRAY(
    SELECT json_build_object('rows', ARRAY[row_to_json(item), row_to_json(source)])
    FROM item JOIN boards_source source ON source.item_ptr_id = item.id ORDER BY item.position, item.id),
  'amps', ARRAY(
    SELECT json_build_object('rows', ARRAY[row_to_json(item), row_to_json(amp)])
    FROM item JOIN boards_amp amp ON amp.item_ptr_id = item.id ORDER BY item.position, item.id),
  'computers', ARRAY(
    SELECT json_build_object('rows', ARRAY[row_to_json(item), row_to_json(computer)])
    FROM item JOIN boards_computer computer ON computer.item_ptr_id = item.id
    ORDER BY item.position, item.id),
  'links', ARRAY(
    SELECT json_build_object(
      'rows', ARRAY[row_to_json(item), row_to_json(link)],
      'source', concat(from_item.ref, '.', from_jack.name, link.from_name),
      'target', concat(to_item.ref, '.', to_jack.name, link.to_name),
      'made_code', made.code,
      'made_verdict', made.verdict)
    FROM item
    JOIN boards_link link ON link.item_ptr_id = item.id
    JOIN item from_item ON from_item.id = link.from_item_id
    JOIN item to_item ON to_item.id = link.to_item_id
    LEFT JOIN gear_pedaljack from_jack ON from_jack.id = link.from_jack_id
    LEFT JOIN gear_pedaljack to_jack ON to_jack.id = link.to_jack_id
    LEFT JOIN gear_madecable made ON made.id = link.made_cable_id
    ORDER BY item.position, item.id),
  'feeds', ARRAY(
    SELECT json_build_object(
      'rows', ARRAY[row_to_json(feed)],
      'lead', (SELECT row_to_json(lead) FROM boards_dclead lead WHERE lead.feed_id = feed.id),
      'outlet_rows', ARRAY(
        SELECT json_build_object(
          'outlet', concat(item.ref, '.', outlet.name), 'setting_mv', fed_from.setting_mv)
        FROM boards_feedoutlet fed_from
        JOIN item ON item.id = fed_from.supply_id
        JOIN gear_outlet outlet ON outlet.id = fed_from.outlet_id
        WHERE fed_from.feed_id = feed.id ORDER BY fed_from.position, fed_from.id),
      'jack_rows', ARRAY(
        SELECT json_build_object(
          'jack', concat(item.ref, '.', jack.name),
          'tail_length', fed.tail_length, 'tail_mm2', fed.tail_mm2, 'tail_awg', fed.tail_awg)
        FROM boards_feedjack fed
        JOIN item ON item.id = fed.pedal_id
        JOIN gear_powerjack jack ON jack.id = fed.jack_id
        WHERE fed.feed_id = feed.id ORDER BY fed.position, fed.id))
    FROM boards_feed feed
    WHERE feed.board_id = board.id ORDER BY feed.position, feed.id),
  'pieces', ARRAY(
    SELECT row_to_json(piece) FROM boards_piece piece WHERE piece.board_id = board.id ORDER BY piece.id),
  'cables', ARRAY(
    SELECT row_to_json(cable) FROM gear_cabletype cable WHERE cable.id IN (
      SELECT link.cable_id FROM item JOIN boards_link link ON link.item_ptr_id = item.id
      UNION SELECT piece.cable_id FROM boards_piece piece WHERE piece.board_id = board.id)),
  'plugs', ARRAY(
    SELECT row_to_json(plug) FROM gear_plugtype plug WHERE plug.id IN (
      SELECT unnest(ARRAY[link.plug_from_id, link.plug_to_id])
      FROM item JOIN boards_link link ON link.item_ptr_id = item.id
      UNION SELECT lead.plug_id FROM boards_dclead lead
      JOIN boards_feed feed ON feed.id = lead.feed_id WHERE feed.board_id = board.id)),
  'stock', ARRAY(
    SELECT row_to_json(stock)
    FROM gear_cablestock stock JOIN gear_cabletype cable ON cable.id = stock.cable_id
    WHERE stock.shop_id = board.shop_id AND stock.trashed_at IS NULL AND cable.trashed_at IS NULL
    ORDER BY cable.name, stock.kind, stock.length, stock.id),
  'drawer', ARRAY(
    SELECT row_to_json(drawer) FROM gear_draweritem drawer
    WHERE drawer.shop_id = board.shop_id AND drawer.trashed_at IS NULL ORDER BY drawer.id),
  'scenes', ARRAY(
    SELECT json_build_object('rows', ARRAY[row_to_json(scene)], 'engaged', ARRAY(
      SELECT item.ref FROM boards_scene_pedals engaged
      JOIN item ON item.id = engaged.placement_id
      WHERE engaged.scene_id = scene.id ORDER BY item.position, item.id))
    FROM boards_scene scene WHERE scene.board_id = board.id ORDER BY scene.position, scene.id),
  'accepted', ARRAY(
    SELECT row_to_json(accepted) FROM boards_acceptedfinding accepted
    WHERE accepted.board_id = board.id ORDER BY accepted.rule, accepted.id)
)::text
FROM board
