"""Settings of horizontal circles in words."""

from __future__ import annotations

from collections.abc import Mapping

_BANK = "{Body} on a bank that rises away from the axis of the bend: "
_BEND = "{Body} in a level bend of a "
_FLIGHT = "{Body} from ahead, on a circle high above "
_CENTRIFUGE = (
    "A {kind}, cut open: two horizontal tubes on a vertical axle. "
    "{{Body}} at the closed end of one, a like load in the other."
)
_ABOVE = ", seen from slightly above. "
_TWO = "Two bodies in line on one straight cord from a {hold}, on two circles; {{body}} is one of them."
_HOLE = _ABOVE + "From a body on a circle, a cord runs through a hole at the centre to a hanging bag."
_HOLLOW = "{{Body}} on the wall inside {what}, cut open, on a horizontal circle whose centre is above its lowest point."
_WHIRL = "{{Body}} on a line, inclined outwards, {by}, on a horizontal circle."
_TWO_CORDS = "{{Body}} on two equal lines from two points of a vertical {rod}, on a horizontal circle about it."
_PULLED = " A line from {{body}}, which is on the larger of two circles, goes to the centre and on to a {by}."
_LEAN = "{{Body}} leaning inwards {where}, with the circle and its centre to the right."
_DISC = "{{Body}} on {disc}, seen from slightly above, with its circle about the axis."
_DRUM = "{{Body}} at the inside of the wall of {drum}, with a horizontal circle about its axis."

SETTINGS: Mapping[str, str] = {
    "bank-road": _BANK + "a road with a guard rail, which goes on behind.",
    "bank-track": _BANK + "a track with a striped kerb, which goes on behind.",
    "bank-boards": _BANK + "a track of boards with a railing, which goes on behind.",
    "bank-ice": _BANK + "a track of ice with a wall at its outer edge, which goes on behind.",
    "bank-model": _BANK + "a model track on a table, which goes on behind.",
    "bank-rails": _BANK + "a railway track on sleepers, whose outer rail is higher; it goes on behind.",
    "slope-turntable": "{Body} on a slope on a turntable. The slope rises away from the axis.",
    "cone-funnel": _HOLLOW.format(what="a funnel on a stand"),
    "cone-strainer": _HOLLOW.format(what="a cone with its apex at the bottom"),
    "cone-exhibit": _HOLLOW.format(what="a wide cone with its apex at the bottom"),
    "bowl": _HOLLOW.format(what="a hemispherical bowl on a foot"),
    "bowl-exhibit": _HOLLOW.format(what="a hemispherical bowl on legs"),
    "whirl-athlete": _WHIRL.format(by="held by somebody who stands at the centre"),
    "whirl-pit": _WHIRL.format(by="below a motor in a closed pit"),
    "governor": "Two balls on upper arms from the top of a shaft. Lower arms lead from them to a collar on the shaft.",
    "two-cords-motor": _TWO_CORDS.format(rod="rod on a motor"),
    "two-cords-window": _TWO_CORDS.format(rod="shaft in a shop window"),
    "two-cords-tent": _TWO_CORDS.format(rod="mast in a tent"),
    "pulled-by-hand": "An air table, seen from slightly above." + _PULLED.format(by="hand below the table"),
    "pulled-by-motor": "A round table, seen from slightly above." + _PULLED.format(by="motor below the table"),
    "pulled-by-winch": "A frozen pond, seen from slightly above." + _PULLED.format(by="winch"),
    "lean-path": _LEAN.format(where="on a path in a level bend"),
    "lean-cones": _LEAN.format(where="round traffic cones on level ground"),
    "lean-car-park": _LEAN.format(where="on a level car park"),
    "bend-town": _BEND + "road with houses beyond, seen from slightly above.",
    "bend-track": _BEND + "track with a striped kerb and stacks of tyres, seen from slightly above.",
    "bend-river": _BEND + "path beside a river, seen from slightly above.",
    "flight-river": _FLIGHT + "a river. Its wings are banked towards the centre.",
    "flight-ridge": _FLIGHT + "a mountain ridge. Its wings are banked towards the centre.",
    "flight-field": _FLIGHT + "a field with a hut and a windsock. Its wings are banked towards the centre.",
    "centrifuge": _CENTRIFUGE.format(kind="centrifuge on a bench"),
    "centrifuge-crank": _CENTRIFUGE.format(kind="centrifuge with a hand crank"),
    "cone-stand": "{Body} on a cord from the hook of a stand, on a horizontal circle whose centre is below the hook.",
    "cone-ceiling": "{Body} on a line from the ceiling, on a horizontal circle whose centre is below its upper end.",
    "arm-fair": "{Body} on a chain from the end of an arm on a mast, inclined outwards, on a circle about the mast.",
    "arm-motor": "{Body} on a cord from the end of a rod on the shaft of a motor, inclined outwards, on a circle.",
    "arm-stage": "{Body} on a wire from the end of a beam below a ceiling, inclined outwards, on a circle.",
    "air-table-pin": "An air table" + _ABOVE + "A thread joins {body} to a pin at the centre of its circle.",
    "table-paper-strip": "A round table" + _ABOVE + "A paper strip joins {body} to a peg at the centre of its circle.",
    "rink-post": "An ice rink" + _ABOVE + "A cord joins {body} to a post at the centre of its circle.",
    "air-table-spring": "An air table" + _ABOVE + "A spring joins {body} to a pin at the centre of its circle.",
    "table-spring": "A round table" + _ABOVE + "A spring joins {body} to a peg at the centre of its circle.",
    "rod-spring": "A horizontal rod on a vertical axle. A spring joins {body}, which is on the rod, to the axle.",
    "air-table-two": "An air table" + _ABOVE + _TWO.format(hold="pin"),
    "table-two": "A round table" + _ABOVE + _TWO.format(hold="peg"),
    "rod-two": "A horizontal rod on a vertical axle. " + _TWO.format(hold="axle").replace("a axle", "the axle"),
    "air-table-hole": "An air table" + _HOLE,
    "table-hole": "A round table" + _HOLE,
    "plate-hole": "A steel plate" + _HOLE,
    "potters-wheel-head": _DISC.format(disc="the head of a potter's wheel"),
    "fair-platform": _DISC.format(disc="a round platform below bunting"),
    "revolving-stage": _DISC.format(disc="a round stage between curtains"),
    "drum-ride": _DRUM.format(drum="an open cylinder, well above its lowered floor"),
    "drum-motor": _DRUM.format(drum="a cylinder on the shaft of a motor"),
    "salad-spinner": _DRUM.format(drum="the basket in a salad spinner"),
}
