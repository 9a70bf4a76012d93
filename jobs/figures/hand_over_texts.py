"""What a hand-over record says unless the office says otherwise. Common practice, no source."""

INSPECT_MONTHS = 12

LIFTING = """Not marked on the piece. Points and slings are chosen by a competent person, from the mass as weighed"""

LIFTING_CHECKED = """Before every lift a competent person checks points and slings against the mass as weighed"""

FIXINGS = """As the engineer's drawing shows; keep that drawing with this record"""

REPAIRS = """A chip in the paint: clean, abrade, prime where the primer is broken, and paint by the paint system above
A crack in the skin: find its end, drill it, abrade to sound glass, lay up as the section's lay-up says, fair and paint
Nothing is glued, drilled or welded on the piece before the studio or a boat builder has looked at it
Match the colour by its reference and on a sample; old paint has faded"""

CAUTIONS = """Lifting, moving and re-fixing need a competent person and the local rules; weigh the piece before a lift
Structure, wind and foundation were the work of an engineer; ask one again before it stands in another place
Abrading and cutting glass fibre makes harmful dust: wet methods, extraction, mask and gloves, people kept away
Keep fire, hot work and solvents away from it; glass fibre and paint burn
Water inside can freeze and crack it: keep the drain holes open"""
