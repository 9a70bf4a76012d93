"""Moments as people say them in a workshop."""

import datetime


def moment_words(at: datetime.datetime) -> str:
    """A moment with its weekday, such as "Thu 26 Nov 14:00".

    Parameters
    ----------
    at : datetime.datetime
        In the zone of the workshop.

    Returns
    -------
    str
        To the minute.
    """
    return f"{at:%a} {day_words(at)} {at:%H:%M}"


def day_words(on: datetime.date) -> str:
    """A day without its year, such as "26 Nov".

    Parameters
    ----------
    on : datetime.date
        The day.

    Returns
    -------
    str
        Day and month.
    """
    return f"{on.day} {on:%b}"


def span_words(span: datetime.timedelta) -> str:
    """How long something still takes, such as "5 h 20 min" or "2 days 4 h".

    Parameters
    ----------
    span : datetime.timedelta
        Above nought.

    Returns
    -------
    str
        Rounded up to the minute, above a day to the hour.
    """
    minutes = -(-int(span.total_seconds()) // 60)
    if minutes >= 24 * 60:
        days, hours = divmod(-(-minutes // 60), 24)
        text = f"{days} day" if days == 1 else f"{days} days"
        return f"{text} {hours} h" if hours else text
    hours, rest = divmod(minutes, 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"
