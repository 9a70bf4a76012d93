"""Trying a change: the draft as it would be, and keeping it."""

import copy
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from django.db import transaction

from jobs.models import Commission, Quote, Section
from jobs.services.drafts import Drafted, drafted, held, open_to_change, save_terms
from jobs.services.sections import change_section
from studio.accounts.models import User
from studio.locking import Conflict


@dataclass(frozen=True, slots=True)
class Trial:
    """What is tried: fields of one section or, with None, of all; and terms of the draft."""

    section_pk: int | None = None
    section_values: Mapping[str, Any] = field(default_factory=dict)
    terms: Mapping[str, Any] = field(default_factory=dict)

    @property
    def is_empty(self) -> bool:
        """Whether nothing would be different."""
        return not self.section_values and not self.terms

    def changes_of(self, section: Section) -> dict[str, Any]:
        """The fields of a section that would become other than they are."""
        if self.section_pk not in (None, section.pk):
            return {}
        return {name: value for name, value in self.section_values.items() if getattr(section, name) != value}

    def changes_of_terms(self, draft: Quote) -> dict[str, Any]:
        """The terms that would become other than they are."""
        return {name: value for name, value in self.terms.items() if getattr(draft, name) != value}


def tried(seen: Drafted, trial: Trial) -> Drafted:
    """The draft as it would be; nothing is kept."""
    sections = []
    for section in seen.sections:
        changed = copy.copy(section)
        for name, value in trial.changes_of(section).items():
            setattr(changed, name, value)
        sections.append(changed)
    draft = copy.copy(seen.draft)
    for name, value in trial.changes_of_terms(seen.draft).items():
        setattr(draft, name, value)
    return replace(seen, sections=tuple(sections), draft=draft)


@transaction.atomic
def keep_change(*, by: User, commission: Commission, stamp: str, trial: Trial) -> bool:
    """Keep what was tried in sections and draft together; False when it is kept already.

    ``stamp`` is that of the draft on which it was tried.
    """
    commission = held(commission)
    open_to_change(commission)
    now = drafted(commission)
    wanted = {section: changes for section in now.sections if (changes := trial.changes_of(section))}
    terms = trial.changes_of_terms(now.draft)
    if not wanted and not terms:
        return False
    if now.stamp != stamp:
        raise Conflict
    for section, changes in wanted.items():
        change_section(by=by, section=section, version=section.version, values={"name": section.name, **changes})
    if terms:
        save_terms(by=by, commission=commission, version=now.draft.version, terms=terms)
    return True
