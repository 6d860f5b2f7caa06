"""Whatever people draft, approve, send back and withdraw, in whatever order: what counts at any
moment is what a plain model says, and no later act alters what counted before.
"""

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from app.catalogue.changes.allowed import why_not_approved, why_not_sent_back, why_not_withdrawn
from app.catalogue.changes.change import Change, Decision, LimitValue, Signature, Verdict
from app.catalogue.changes.history import History, State, history_of

START = datetime(2026, 1, 1, tzinfo=UTC)
STEP = timedelta(hours=1)
NAMES = ("high", "low")
PEOPLE = (("birch", True), ("elm", True), ("rowan", False), ("oak", False))
WHY_NOT = {
    "approved": why_not_approved, "sent back": why_not_sent_back, "withdrawn": why_not_withdrawn,
}  # fmt: skip

drafts = st.tuples(st.just("draft"), st.sampled_from(NAMES), st.integers(0, 6))
verdicts = st.tuples(
    st.sampled_from(["approved", "sent back", "withdrawn"]), st.integers(1, 5), st.just(0)
)
acts = st.lists(st.tuples(st.one_of(drafts, verdicts), st.sampled_from(PEOPLE)), max_size=18)


@dataclass
class Ward:
    """People who act, one an hour, as far as the rules let them."""

    changes: list[Change] = field(default_factory=list)
    decisions: list[Decision] = field(default_factory=list)

    @property
    def history(self) -> History:
        return history_of(self.changes, self.decisions)

    def act(self, what: tuple[str, object, int], by: Signature) -> None:
        verb, about, hours = what
        if verb == "draft":
            number = len(self.changes) + 1
            content, later = LimitValue("k-hyper", str(about), float(number)), by.at + hours * STEP
            day = later.date() + timedelta(days=30)
            self.changes.append(Change(content, "why", later, day, by, number=number))
            return
        filed = self.history.get(int(str(about)))
        if filed is not None and not WHY_NOT[verb](filed, by, self.history):
            verdict: Verdict = verb  # type: ignore[assignment]
            self.decisions.append(Decision(filed.change.number, verdict, by))


@dataclass
class Walk:
    """The hours walked through one by one: what counts for each limit, how each change stands."""

    ward: Ward
    states: dict[int, State] = field(default_factory=dict)
    counts: dict[str, int] = field(default_factory=dict)
    begins: dict[int, datetime] = field(default_factory=dict)

    def step(self, at: datetime) -> None:
        self.states |= {one.number: "draft" for one in self.ward.changes if one.drafted.at == at}
        for decision in (one for one in self.ward.decisions if one.signed.at == at):
            self.decide(decision, at)
        # In the order of their approval, so that of two that begin at once the later one stays.
        for number in [one for one, due in self.begins.items() if due == at]:
            if self.states[number] == "waiting":
                self.begin(number)

    def decide(self, decision: Decision, at: datetime) -> None:
        if decision.verdict == "approved":
            self.states[decision.change] = "waiting"
            due = self.ward.changes[decision.change - 1].effective_from
            self.begins[decision.change] = max(due, at)
        else:
            self.states[decision.change] = decision.verdict

    def begin(self, number: int) -> None:
        subject = self.ward.changes[number - 1].subject
        if subject in self.counts:
            self.states[self.counts[subject]] = "superseded"
        self.states[number], self.counts[subject] = "in force", number


def model(ward: Ward, moment: datetime) -> tuple[dict[str, int], dict[int, State]]:
    walk, at = Walk(ward), START
    while at <= moment:
        walk.step(at)
        at += STEP
    return walk.counts, walk.states


def told(history: History, moment: datetime) -> tuple[dict[str, int], dict[int, State]]:
    counts = {key: one.change.number for key, one in history.in_force(moment).items()}
    states = {
        one.change.number: history.state(one, moment)
        for one in history
        if one.change.drafted.at <= moment
    }
    return counts, states


@given(acts)
def test_what_counts_and_how_each_change_stands_is_what_a_plain_model_says(
    tried: list[tuple[tuple[str, object, int], tuple[str, bool]]],
) -> None:
    ward = Ward()
    for number, (what, (name, pharmacist)) in enumerate(tried):
        ward.act(what, Signature(name, name, pharmacist, START + number * STEP))
    for hours in range(len(tried) + 8):
        moment = START + hours * STEP
        assert told(ward.history, moment) == model(ward, moment)


@given(acts)
def test_nothing_done_later_alters_what_counted(
    tried: list[tuple[tuple[str, object, int], tuple[str, bool]]],
) -> None:
    ward, seen = Ward(), []
    for number, (what, (name, pharmacist)) in enumerate(tried):
        at = START + number * STEP
        ward.act(what, Signature(name, name, pharmacist, at))
        seen.append((at, told(ward.history, at)))
    for at, then in seen:
        assert told(ward.history, at) == then == told(ward.history.as_of(at), at)


@given(acts)
def test_every_change_that_ever_counted_had_two_people_one_of_them_a_pharmacist(
    tried: list[tuple[tuple[str, object, int], tuple[str, bool]]],
) -> None:
    ward = Ward()
    for number, (what, (name, pharmacist)) in enumerate(tried):
        ward.act(what, Signature(name, name, pharmacist, START + number * STEP))
    for one in ward.history:
        approved = one.decided("approved")
        if approved is not None:
            assert approved.signed.account_id != one.change.drafted.account_id
            assert approved.signed.pharmacist or one.change.drafted.pharmacist
            assert approved.signed.at <= (one.counts_from or approved.signed.at)
