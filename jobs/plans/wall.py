"""The wall calendar: weeks across, sections down, each part with its stage's hatch and what follows it."""

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import ceil

from django.utils.safestring import SafeString

from jobs.figures.moments import day_words
from jobs.figures.workdays import BEGINS
from jobs.plans.reading import After, Finish, Row, sections_of
from materials.drawing import HATCHED_STAGES
from materials.drawing.hatches import legend, pattern_id, patterns
from materials.drawing.svg import FAINT, FONT, INK, PAPER, RULE, SOFT, TEXT, THIN, element, escaped, label, text_width

LEFT = 128.0
"""Room for the names of sections, in user units."""
HEAD = 44.0
LANE, BAR = 24.0, 13.0
MOST_DAYS, FEWEST_DAYS = 560, 35
WIDE, WIDEST_DAY, NARROWEST_DAY = 1000.0, 28.0, 4.5
HOLD, LATE, ACT = "#7a4a00", "#8f2f1d", "#1d4e6b"
WINDOW = 6.0
"""How far the ends of the bracket reach down that stands for the days of the site."""
WORDED = 4
"""Commissions on one wall whose bars tell themselves when pointed at."""
A_NIGHT = datetime.timedelta(hours=20)
WORKED_H = 7.5
"""A day on the wall, from the beginning of its work [h]."""


@dataclass(frozen=True, slots=True)
class Chart:
    """One commission on the wall."""

    finish: Finish
    rows: Sequence[Row]


def wall(charts: Sequence[Chart], today: datetime.date, uid: str) -> SafeString:
    """The drawing of one commission or of several, one under the other."""
    # Every text in it is escaped by ``element``.
    return SafeString(_Wall(charts, today, uid).drawn())


class _Wall:
    """One drawing on its way."""

    def __init__(self, charts: Sequence[Chart], today: datetime.date, uid: str) -> None:
        self.charts, self.uid, self.today = charts, uid, today
        begin = min((row.start.date() for chart in charts for row in chart.rows), default=today)
        first = min(begin, today)
        self.first = first - datetime.timedelta(days=first.weekday())
        ends = [row.last.date() for chart in charts for row in chart.rows]
        ends += [day for chart in charts for day in _days_of(chart.finish)]
        days = (max(ends, default=today) - self.first).days + 4
        self.days = min(MOST_DAYS, max(FEWEST_DAYS, days + -days % 7))
        self.day = min(WIDEST_DAY, max(NARROWEST_DAY, WIDE / self.days))
        self.width = LEFT + self.days * self.day + 8
        self.top = HEAD
        self.drawn_rows: list[str] = []

    def drawn(self) -> str:
        for chart in self.charts:
            self._commission(chart)
        hatches = [key for key in HATCHED_STAGES if any(row.key == key for chart in self.charts for row in chart.rows)]
        made, height = legend(self.uid, hatches, left=LEFT, top=self.top + 14)
        total = self.top + 14 + height + 26
        content = [
            element("title", escaped(self._words())),
            element("defs", patterns(self.uid, hatches)),
            element("rect", x=0, y=0, width=self.width, height=total, fill=PAPER),
            *self._weeks(),
            *self.drawn_rows,
            *self._today(),
            made,
            *_signs(LEFT, self.top + 14 + height + 4),
        ]
        return element(
            "svg",
            *content,
            xmlns="http://www.w3.org/2000/svg",
            viewBox=f"0 0 {self.width:.0f} {total:.0f}",
            width=round(self.width),
            height=round(total),
            role="img",
            font_family=FONT,
            font_size=TEXT,
        )

    def _x(self, moment: datetime.datetime | datetime.date) -> float:
        day = moment.date() if isinstance(moment, datetime.datetime) else moment
        share = 0.0
        if isinstance(moment, datetime.datetime):
            # A day is drawn as wide as its work; what ends in the night ends with the day.
            share = min(1.0, max(0.0, (moment.hour + moment.minute / 60 - BEGINS.hour) / WORKED_H))
        return LEFT + min(float(self.days), (day - self.first).days + share) * self.day

    def _weeks(self) -> Iterable[str]:
        """A line a week, its Monday where there is room, and weekends in a tint."""
        # Every week is named, or every second, third and so on, as there is room.
        each = ceil((text_width("28 Sep") + 6) / (7 * self.day))
        for number in range(self.days // 7 + 1):
            monday = self.first + datetime.timedelta(weeks=number)
            x = self._x(monday)
            if number * 7 < self.days:
                yield element(
                    "rect", x=x + 5 * self.day, y=HEAD, width=2 * self.day, height=self.top - HEAD, fill=FAINT
                )
            yield element("path", d=f"M{x:.1f} {HEAD - 8}V{self.top:.1f}", stroke=RULE, stroke_width=THIN, fill="none")
            if number % each == 0 and number * 7 < self.days:
                yield label(x + 2, HEAD - 12, day_words(monday), anchor="start", fill=SOFT)

    def _today(self) -> Iterable[str]:
        x = self._x(self.today)
        yield element("path", d=f"M{x:.1f} {HEAD - 8}V{self.top:.1f}", stroke=LATE, stroke_width=1.6, fill="none")
        yield label(max(x, LEFT + 14), 14, "today", fill=LATE)

    def _commission(self, chart: Chart) -> None:
        top = self.top
        if len(self.charts) > 1:
            self.drawn_rows.append(_rule(self.top, self.width))
            self.drawn_rows.append(
                label(2, self.top + 17, f"{chart.finish.number} {chart.finish.name}", anchor="start")
            )
            self.top += LANE
        for name, rows in sections_of(chart.rows):
            lanes = _lanes(_in_one_go(rows))
            self.drawn_rows.append(label(2, self.top + 17, _short(name), anchor="start", fill=SOFT))
            for number, lane in enumerate(lanes):
                for place, row in enumerate(lane):
                    room = self._x(lane[place + 1].start) if place + 1 < len(lane) else self.width - 8
                    self.drawn_rows.append(self._bar(row, self.top + number * LANE, room))
            self.top += LANE * len(lanes)
            self.drawn_rows.append(_rule(self.top, self.width, faint=True))
        self._marks(chart.finish, top)

    def _bar(self, row: Row, top: float, room: float) -> str:
        """One part with what follows it, and its slack as far as there is room."""
        y = top + (LANE - BAR) / 2
        x, end = self._x(row.start), self._x(row.end)
        middle = y + BAR / 2
        # Words on every bar of a whole workshop would be most of the page; the tables have them.
        made = [element("title", escaped(bar_words(row)))] if len(self.charts) <= WORDED else []
        if row.slack_days and not row.is_done:
            latest = self._x(row.latest) - x if row.latest else 0.0
            last = self._x(row.last)
            if last < (until := min(room, last + latest)):
                d = f"M{last:.1f} {middle:.1f}H{until:.1f}"
                made.append(element("path", d=d, stroke=SOFT, stroke_width=THIN, stroke_dasharray="1 3", fill="none"))
        made += [self._after(each, middle) for each in row.follows]
        if not row.is_done:
            fill = f"url(#{pattern_id(self.uid, row.key)})" if row.key in HATCHED_STAGES else PAPER
            width = max(2.5, end - x)
            made.append(element("rect", x=x, y=y, width=width, height=BAR, fill=fill, stroke=INK, stroke_width=1))
            if row.key not in HATCHED_STAGES and width > 9:
                made.append(label(x + width / 2, y + BAR - 2.5, row.name[:1]))
        return element("g", *made)

    def _after(self, each: After, middle: float) -> str:
        x, end = self._x(each.begins), self._x(each.until)
        d = f"M{x:.1f} {middle:.1f}H{end:.1f}"
        if each.kind == "hold":
            return element("path", d=d, stroke=HOLD, stroke_width=3.5, stroke_dasharray="2 2", fill="none")
        ring = element("circle", cx=end, cy=middle, r=3.5, fill=PAPER, stroke=ACT, stroke_width=1.4)
        return element("path", d=d, stroke=ACT, stroke_width=1.4, fill="none") + ring

    def _marks(self, finish: Finish, top: float) -> None:
        """The day it is done, the day four in five such plans keep, and the day it is needed."""
        done = self._x(finish.finish + datetime.timedelta(days=1))
        flag = f"M{done:.1f} {top:.1f}V{self.top:.1f}"
        self.drawn_rows.append(element("path", d=flag, stroke=INK, stroke_width=1.6, fill="none"))
        p80 = self._x(finish.p80 + datetime.timedelta(days=1))
        dots = f"M{p80:.1f} {top:.1f}V{self.top:.1f}"
        self.drawn_rows.append(element("path", d=dots, stroke=INK, stroke_width=1, stroke_dasharray="1 4", fill="none"))
        if finish.needed_by and finish.needed_by >= self.first:
            x = self._x(finish.needed_by + datetime.timedelta(days=1))
            mark = f"M{x:.1f} {self.top:.1f}l-5 -9h10z"
            self.drawn_rows.append(element("path", d=mark, fill=LATE if finish.days_late else ACT))

        self._window(finish, top)

    def _window(self, finish: Finish, top: float) -> None:
        """The days on which the site takes it, as a bracket along the top of the commission."""
        first, last = finish.site_from, finish.site_until
        if (first is None and last is None) or (last is not None and last < self.first):
            return
        begin = self._x(max(first or self.first, self.first))
        end = self._x(last + datetime.timedelta(days=1)) if last else LEFT + self.days * self.day
        drop = f"v{WINDOW:g}" if first and first >= self.first else ""
        bracket = (
            f"M{begin:.1f} {top + 2:.1f}{drop}m0 {-WINDOW if drop else 0:g}H{end:.1f}{f'v{WINDOW:g}' if last else ''}"
        )
        self.drawn_rows.append(element("path", d=bracket, stroke=ACT, stroke_width=2, fill="none"))

    def _words(self) -> str:
        ends = "; ".join(f"{each.finish.name} done {day_words(each.finish.finish)}" for each in self.charts)
        weeks = self.days // 7
        return f"Wall calendar of {weeks} weeks from {day_words(self.first)}. {ends}. The table below says the same."


def bar_words(row: Row) -> str:
    """What a bar stands for, in one line."""
    then = "".join(f"; {each.words.lower()} until {day_words(each.until.date())}" for each in row.follows)
    if row.is_done:
        return f"{row.place}, {row.name.lower()}{then}"
    when = day_words(row.start.date())
    if row.end.date() != row.start.date():
        when += f" to {day_words(row.end.date())}"
    return f"{row.called}, {when}{then}"


def _days_of(finish: Finish) -> list[datetime.date]:
    return [day for day in (finish.finish, finish.p80, finish.needed_by, finish.site_until) if day is not None]


def _lanes(rows: Sequence[Row]) -> list[list[Row]]:
    """Rows that overlap one under the other, each in the first lane that is free."""
    lanes: list[list[Row]] = []
    for row in sorted(rows, key=lambda row: (row.start, row.end)):
        free = next((lane for lane in lanes if lane[-1].end <= row.start or row.is_done), None)
        if free is None:
            lanes.append([row])
        else:
            free.append(row)
    return lanes


def _in_one_go(rows: Sequence[Row]) -> list[Row]:
    """Rows with pieces of one part taken together where a night at most lies between them."""
    found: list[Row] = []
    for row in sorted(rows, key=lambda row: (row.start, row.end)):
        before = next((each for each in reversed(found) if (each.stage, each.what) == (row.stage, row.what)), None)
        if before is None or row.is_done or before.follows or row.start - before.end >= A_NIGHT:
            found.append(row)
        else:
            found[found.index(before)] = replace(before, end=row.end, follows=row.follows)
    return found


def _signs(left: float, top: float) -> Iterable[str]:
    """What the lines mean."""
    x = left
    for words, drawn in (
        ("hold or out of the house", {"stroke": HOLD, "stroke_width": 3.5, "stroke_dasharray": "2 2"}),
        ("sign-off", {"stroke": ACT, "stroke_width": 1.4}),
        ("slack", {"stroke": SOFT, "stroke_width": THIN, "stroke_dasharray": "1 3"}),
        ("the site takes it", {"stroke": ACT, "stroke_width": 2}),
    ):
        yield element("path", d=f"M{x:.1f} {top + 7:.1f}h22", fill="none", **drawn)  # type: ignore[arg-type]
        if words == "sign-off":
            yield element("circle", cx=x + 22, cy=top + 7, r=3.5, fill=PAPER, stroke=ACT, stroke_width=1.4)
        yield label(x + 30, top + 11, words, anchor="start")
        x += 44 + text_width(words)


def _rule(y: float, width: float, *, faint: bool = False) -> str:
    return element("path", d=f"M0 {y:.1f}H{width:.1f}", stroke=RULE if faint else INK, stroke_width=THIN, fill="none")


def _short(name: str) -> str:
    return name if len(name) <= 17 else f"{name[:16]}…"
