"""Who waits for whom: every development with its next step and whose turn it is."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from tuner.domain import Assessment
from tuner.services.actor import Actor
from tuner.services.knowing import assessment_of
from tuner.services.loading import Loaded, remembered
from tuner.services.proposal_states import states_of
from tuner.services.viewing import LIVE
from tuner.services.views import DevelopmentSummary
from tuner.services.workspace import Workspace

HOUSE = "the house"


@dataclass(frozen=True, slots=True)
class NextStep:
    """What has to be done next, and by whose people: a customer's, or the house's (None)."""

    what: str
    party: str | None


def list_developments(space: Workspace, who: Actor, *, include_archived: bool = False) -> tuple[DevelopmentSummary, ...]:
    """Developments with who has to do what: one's own turn first, what lies longest first; archived ones last."""
    with space.store.read(who.customer) as reading:
        chosen = [kept for kept in reading.developments.all() if include_archived or kept.state != "archived"]
        loaded = [remembered(space, reading, kept) for kept in chosen]
    now = space.clock()
    summaries = [_summary(space, who, one, now) for one in loaded]
    return tuple(sorted(summaries, key=lambda line: (line.status == "archived", not line.my_turn, -line.idle_days)))


def _summary(space: Workspace, who: Actor, loaded: Loaded, now: datetime) -> DevelopmentSummary:
    development = loaded.development
    assessment = assessment_of(space, who, loaded)
    step = next_step(loaded, assessment)
    mine = step is not None and step.party == who.customer
    return DevelopmentSummary(
        id=development.id,
        dish=loaded.brief.dish,
        customer=development.customer,
        oven_name=loaded.oven.name,
        status=assessment.status if development.state == "open" else development.state,
        waits_for=_in_words(step, mine),
        my_turn=mine,
        idle_days=max((now - development.moved_at).days, 0),
        cook_count=len(loaded.current_rows),
        best_program=assessment.best_program,
        chance_reliable=assessment.chance_reliable,
        cooks_left_estimate=assessment.cooks_left_estimate,
        cooks_left_range=assessment.cooks_left_range,
        moved_at=development.moved_at,
        token=development.token,
    )


def _in_words(step: NextStep | None, mine: bool) -> str:
    if step is None:
        return "nobody"
    return f"{'you' if mine else step.party or HOUSE}: {step.what}"


def next_step(loaded: Loaded, assessment: Assessment) -> NextStep | None:
    """What has to be done next; None where the development is closed."""
    from tuner.safety import effective_limit

    if loaded.development.state != "open":
        return None
    desk, kitchen = loaded.development.stamp.by_customer, _kitchen(loaded)
    if not effective_limit(loaded.brief).approved:
        return NextStep("have the critical limit approved, until then nobody may taste", desk)
    unfinished = _unfinished(loaded)
    if unfinished:
        return NextStep(unfinished, kitchen)
    states = states_of(loaded).values()
    number = max((row.number for row in loaded.rows), default=0) + 1
    if "accepted" in states or "changed" in states:
        return NextStep(f"log cook {number}", kitchen)
    if "open" in states:
        return NextStep(f"decide on the proposal for cook {number}", desk)
    return NextStep(_at_the_desk(assessment), desk)


def _kitchen(loaded: Loaded) -> str | None:
    """Whose people cook: those who logged the last cook live, at first those who started the development."""
    live = [row.stamp.by_customer for row in loaded.rows if row.source == LIVE]
    return live[-1] if live else loaded.development.stamp.by_customer


def _unfinished(loaded: Loaded) -> str:
    """What the last live cook still lacks, empty if nothing that can still be added."""
    from tuner.proof import counts, judge
    from tuner.safety import verdict

    live = [row for row in loaded.current_rows if row.source == LIVE and row.cook.purpose != "benchmark"]
    if not live or not counts(loaded.brief, loaded.oven, live[-1].cook):
        return ""
    last = live[-1]
    outcome = judge(loaded.brief, last.cook)
    may_taste = verdict(loaded.brief, last.cook).may_taste
    addable = [name.replace("_", " ") for name in outcome.missing if may_taste or name not in ("texture", "moisture")]
    if outcome.result != "pending" or not addable:
        return ""
    return f"add what cook {last.number} lacks ({', '.join(addable)})"


def _at_the_desk(assessment: Assessment) -> str:
    if assessment.status == "proven":
        return "hand the recipe over and close"
    if assessment.status == "stalled":
        return "relax the brief or close"
    return "ask for the next program"
