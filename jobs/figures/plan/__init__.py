"""When work can be done: a problem in working periods, plans for it, and what is read off them.

Time has two faces. Work runs in whole working periods, numbered from 0 (today's
first): nights and days off lie between periods and take none. A hold runs by
the clock, through nights and weekends. ``Calendar`` alone turns one into the
other: work that waits may begin in the first period that begins when the hold
is over, so a Friday's cast cures over the weekend at no cost in periods.
"""
