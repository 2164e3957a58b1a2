"""Settings of vertical circles in words."""

from __future__ import annotations

from collections.abc import Mapping

_LOOP = "{{Body}} on the inside of a vertical, circular loop of track {where}, {{place}}."
_RAMP = "{{Body}} on the inside of a vertical, circular loop, {{place}}. Its start on {what} is shown too."
_CREST = "{{Body}} at the highest point of {what}, whose top is an arc of a circle. The centre is below."
_DIP = "{{Body}} at the lowest point of a dip in {what}, which is an arc of a circle. The centre is above."
_SWING = "{{Body}} on a {line} from {hold}, {{place}}. The upper end of the {line} is the centre."
_RELEASED = "{{Body}} at the lowest point, on a {line} from {hold}. Its start, to one side, is shown too."
_SWUNG = "{{Body}} on a {line} in the hand of a {who} {where}. {{Body}} is {{place}}, whose centre is the hand."
_CORD = "{{Body}} on a {line} from {hold} at the centre of a vertical circle, {{place}}."
_ROD = "{{Body}} at the end of {rod} that turns about {hold}, {{place}}."
_WHEEL = "{{Body}} {where} of a vertical wheel {hold}, {{place}}. The other {places} are empty."
_DOME = "{{Body}} on the outside of {what}, to one side of the top. Its start, at the top, is shown too."
_WAY_UP = "{{Body}} on a {line} from {hold}, {{place}}. Its start, to the other side, is shown too."
_UP = "{{Body}} at the lowest point, on a {line} from {hold}. Its highest place, to one side, is shown too."
_FIELD = "{{Body}} at the lowest point, on a {line} from {hold}, in a dashed frame. Its start, aside, is shown too."
_TAUT = (
    "{{Body}} at the lowest point, on a {line} from {hold}. Its start beside the hook and, straight below, "
    "where the {line} went taut are shown too."
)
_PEG = "{{Body}} on a {line} from {hold}, {{place}} about a {peg} below. Its start, level with the hook, is shown too."
_DIP_AND_HUMP = "{{Body}} {{place}}. {what} leads through the dip and over the hump, two arcs with their centres."
_HOLLOW = "{{Body}} in {what}, {{place}}. Its start, at the edge opposite, is shown too."

SETTINGS: Mapping[str, str] = {
    "loop-toy": _LOOP.format(where="beside a flag"),
    "loop-museum": _LOOP.format(where="on a table"),
    "ramp-loop-toy": _RAMP.format(what="a ramp of track before it"),
    "ramp-loop-smooth": _RAMP.format(what="a smooth ramp before it"),
    "ramp-loop-chute": _RAMP.format(what="a smooth chute before it"),
    "ramp-loop-coaster": _RAMP.format(what="a ramp on supports before it"),
    "crest-bridge": _CREST.format(what="a humpback bridge over a river"),
    "crest-golf": _CREST.format(what="a mound near a flag"),
    "crest-model": _CREST.format(what="a hump in a model track"),
    "dip-road": _DIP.format(what="a road"),
    "dip-coaster": _DIP.format(what="a roller-coaster track"),
    "dip-model": _DIP.format(what="a model track"),
    "full-pipe": "{Body} on the inside of a full pipe, {place}.",
    "half-pipe": "{Body} in a half-pipe between two platforms, {place}.",
    "channel-window": "{Body} in a channel in a shop window, {place}. The channel is an arc of this circle.",
    "swing-stand": _SWING.format(line="thread", hold="the hook of a stand"),
    "swing-rig": _SWING.format(line="cord", hold="a bar with lamps"),
    "swing-tent": _SWING.format(line="rope", hold="a beam in a circus tent"),
    "swing-scaffold": _SWING.format(line="cord", hold="a scaffold"),
    "swing-gym": _SWING.format(line="rope", hold="a beam in a gymnasium"),
    "released-stand": _RELEASED.format(line="thread", hold="the hook of a stand"),
    "released-branch": _RELEASED.format(line="cord", hold="a branch of a tree"),
    "released-climbing": _RELEASED.format(line="rope", hold="a beam beside a climbing wall"),
    "swung-by-dancer": _SWUNG.format(line="cord", who="dancer", where="near a string of lanterns"),
    "swung-by-juggler": _SWUNG.format(line="cord", who="juggler", where="between trees"),
    "swung-by-sailor": _SWUNG.format(line="line", who="sailor", where="on a quay"),
    "cord-stand": _CORD.format(line="cord", hold="the pin of a stand"),
    "cord-garden": _CORD.format(line="string", hold="a peg on a post"),
    "cord-hall": _CORD.format(line="rope", hold="a pin on a bracket"),
    "rod-sculpture": _ROD.format(rod="a rod", hold="a pin on the arm of a sculpture"),
    "rod-stand": _ROD.format(rod="a stick", hold="the pin of a stand"),
    "rod-ride": _ROD.format(rod="an arm", hold="an axle on the tower of a ride"),
    "wheel-fair": _WHEEL.format(where="on a seat", hold="on a stand", places="seats"),
    "wheel-bakery": _WHEEL.format(where="on a shelf", hold="in a shop window", places="shelves"),
    "wheel-model": _WHEEL.format(where="in a gondola", hold="on a laboratory bench", places="gondolas"),
    "dome-bowl": _DOME.format(what="an upturned bowl on a table"),
    "dome-museum": _DOME.format(what="a dome on a counter"),
    "dome-observatory": _DOME.format(what="the dome of an observatory"),
    "loop-in-flight": "{Body} in an aircraft that flies a vertical circle high above the ground, {place}.",
    "dip-and-hump-track": _DIP_AND_HUMP.format(what="A cycle track"),
    "dip-and-hump-snow": _DIP_AND_HUMP.format(what="A track of ice"),
    "dip-and-hump-rails": _DIP_AND_HUMP.format(what="A track on supports"),
    "bowl-on-a-table": _HOLLOW.format(what="a hemispherical bowl on a table"),
    "basin": _HOLLOW.format(what="a hemispherical basin with a tap"),
    "half-pipe-from-the-edge": _HOLLOW.format(what="a half-pipe between two platforms"),
    "way-up-stand": _WAY_UP.format(line="thread", hold="the hook of a stand"),
    "way-up-branch": _WAY_UP.format(line="cord", hold="a branch of a tree"),
    "way-up-rig": _WAY_UP.format(line="rope", hold="a beam with lamps"),
    "up-shop": _UP.format(line="cord", hold="a rail in a shop"),
    "up-arcade": _UP.format(line="chain", hold="a ceiling near an arch"),
    "up-gym": _UP.format(line="rope", hold="a beam in a gymnasium"),
    "field-stand": _FIELD.format(line="thread", hold="a stand"),
    "field-stage": _FIELD.format(line="cord", hold="a bar with lamps"),
    "field-rail": _FIELD.format(line="thread", hold="a rail with hooks"),
    "taut-stand": _TAUT.format(line="cord", hold="the hook of a stand"),
    "taut-boom": _TAUT.format(line="chain", hold="a boom"),
    "taut-tower": _TAUT.format(line="cable", hold="a tower"),
    "peg-stand": _PEG.format(line="thread", peg="peg", hold="a stand"),
    "peg-gym": _PEG.format(line="cord", peg="bar", hold="a beam"),
    "peg-case": _PEG.format(line="cord", peg="pin", hold="a bracket in a case"),
}
