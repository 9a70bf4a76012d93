"""What a new studio starts with. All of it is the studio's to change in the office.

The lists are common practice in public-art quotes; tax is the United Kingdom's
standard rate, from memory: check it before the first quote.
"""

import datetime

WORKING_DAYS = [0, 1, 2, 3, 4]

PAYMENT_STAGES = [
    {"label": "On acceptance", "share": "0.3"},
    {"label": "When the pattern's form is signed off", "share": "0.3"},
    {"label": "When the casts are joined, before paint", "share": "0.3"},
    {"label": "On delivery", "share": "0.1"},
]

TAX_RATES = {
    "Standard": [("0.20", datetime.date(2011, 1, 4))],
    "Reduced": [("0.05", datetime.date(1997, 9, 1))],
    "Zero": [("0", datetime.date(1973, 4, 1))],
}

INCLUDED = """Patterns, moulds and casts as described for each section
Joining, filling, fairing and painting to the grade stated
Steel inside the casts where it is listed
A crate for each section where one is listed
A hand-over record with lay-up, mass, paint system and care"""

ASSUMED = """The drawings or model named above are complete and final
Each approval is answered within five working days
One delivery, with unloading by others
A level hard standing within reach of the lorry"""

EXCLUDED = """Foundations, ground conditions and search for services
The structural engineer's fee, unless it is listed
Crane, access equipment, traffic management and police notices
Planning, listed-building and highways consents
Changes of colour after the sample is approved
Anti-graffiti film, lightning protection and earthing
Removal of earlier work, work out of hours, making good
Long-term storage and import duty"""

APPROVALS = """Model or maquette, with dimensions
Form of the pattern, before the mould
Colour and finish, on a sample of the real lay-up
Fit-up of the sections, before paint
Finished work in daylight, before it is crated
The work in its place"""

CARE = """Wash with mild soap and water twice a year, more often by the sea or under trees
Wax or renew the clear coat as the paint maker says
Look over the fixings every year; write down what was found
Expect gloss outdoors to need new paint after some seven to twelve years"""

TERMS = """Stage payments are due fourteen days after each invoice. The work stays ours until it is paid for.
A change after an approval is priced as a variation before it is begun.
Moulds are kept for twelve months and may then be scrapped unless storage is agreed."""
