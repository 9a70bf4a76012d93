"""What is said about links: what a holder can do, and the text to send with one."""

from jobs.models import Link, LinkKind
from studio.office.models import House

MAY_DO = {
    LinkKind.PROGRESS: (
        "see how far each section has come, what has happened, what is on hold, the photos you showed, and the days "
        "you published. They see no hours, no cost and no name of a maker, and can change nothing."
    ),
    LinkKind.SIGN_OFF: "see what is to be approved and answer it once, with a typed name and role.",
    LinkKind.VARIATION: "see the change with its price and days, and accept or decline it once, with a typed name.",
    LinkKind.STATEMENT: "see the price, what was agreed since, and what was asked for and paid. They change nothing.",
    LinkKind.PIECE: (
        "read the hand-over record of the piece and what has happened to it since, and leave a note that you alone "
        "read until you write it down."
    ),
    LinkKind.CALENDAR: (
        "read holds that end, sign-offs that are due and promised days in a calendar of their own. They see no cost "
        "and can change nothing."
    ),
}

_DOCUMENTS = " They may also open the documents that you let through, the quote with its price among them."


def may_do(link: Link) -> str:
    """What the holder of a link can do."""
    return MAY_DO[LinkKind(link.kind)] + (_DOCUMENTS if link.shows_documents else "")


_ASKS = {
    LinkKind.PROGRESS: "here you can follow how {title} comes along",
    LinkKind.SIGN_OFF: "here is what we ask you to approve for {title}",
    LinkKind.VARIATION: "here is a change to {title} that needs your answer",
    LinkKind.STATEMENT: "here is how the account of {title} stands",
    LinkKind.PIECE: "here is the record of {title}, as it was handed over",
    LinkKind.CALENDAR: "here is a calendar of our work, to subscribe to",
}


ALONE = "The link is meant for you alone; whoever has it can open the page."
_WHOSE = {LinkKind.PIECE: "The link goes with the piece: hand it on with it. Whoever has it can open the page."}


def subject_of(link: Link, house: House) -> str:
    """The subject of the mail."""
    return f"{link.commission.title if link.commission else 'Calendar'}, from {house.name}"


def text_to_send(link: Link, address: str, house: House) -> str:
    """A few plain lines around the address."""
    asks = _ASKS[LinkKind(link.kind)].format(title=link.commission.title if link.commission else "")
    due = f" An answer by {link.sign_off.answer_by:%-d %B %Y} keeps the programme." if link.sign_off else ""
    until = f" It opens until {link.expires_on:%-d %B %Y}." if link.expires_on else ""
    return (
        f"Dear {link.receiver},\n\n{asks}:\n\n{address}\n\n"
        f"{_WHOSE.get(LinkKind(link.kind), ALONE)}{due}{until}\n\n"
        f"With kind regards\n{house.name}\n"
    )
