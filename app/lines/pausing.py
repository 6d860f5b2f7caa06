"""The pauses of continuous infusions in the solver's terms, each counted once, with its minutes.

Each timed infusion that stops a continuous one either begins a pause, or sets on before one that
began earlier has ended and then adds only the minutes past that end. So pauses that touch or
overlap are one, and no minute is counted twice.
"""

from app.lines.encoding import Encoded, Term
from app.lines.laid import taken
from app.lines.meeting import cliques
from app.lines.model import Infusion


class Pausing:
    """Of an encoded problem: interruptions and minutes, summed over all continuous infusions.

    counted False: only as far as something may not pause for longer than it says.
    """

    def __init__(self, encoded: Encoded, *, counted: bool = True) -> None:
        self.encoded, self.built, self.problem = encoded, encoded.built, encoded.problem
        self._reached: dict[tuple[str, str], Term] = {}
        self._spans: dict[str, tuple[Term, Term]] = {}
        begins: list[Term] = []
        minutes: list[Term] = []
        for one in self.problem.infusions:
            limited = one.max_pause_min is not None
            if one.continuous and one.may_pause and (counted or limited):
                mine = self._pauses(one)
                begins.extend(begin for begin, _ in mine)
                minutes.extend(more for _, more in mine)
        self.interruptions: Term = sum(begins)
        self.minutes: Term = sum(minutes)

    def _pauses(self, one: Infusion) -> list[tuple[Term, Term]]:
        """For each that may stop it: whether it begins a pause, and how many minutes it adds."""
        stops = {
            other.id: self._met(one, other)
            for other in self.encoded.timed
            if self.encoded.clash(one, other) and self.encoded.shared(one, other)
        }
        found = [self._pause(name, stops) for name in stops]
        begins, minutes = [begin for begin, _ in found], [more for _, more in found]
        for name, met in stops.items():
            self.built.add(sum(begins) >= met)
            self.built.add(sum(minutes) >= self._shortest_min(name) * met)
        if one.max_pause_min is not None and stops:
            self.built.add(sum(minutes) <= one.max_pause_min)
        self._add_up(stops, sum(minutes))
        return found

    def _add_up(self, stops: dict[str, Term], minutes: Term) -> None:
        """What clashes throughout runs in turn, so lengths add up: no new rule, sooner proof."""
        flush_min = self.problem.flush_min
        stopping = [one for one in self.encoded.timed if one.id in stops]
        for group in cliques(stopping, self.encoded.apart):
            lengths = [((one.duration_min or 0) + flush_min) * stops[one.id] for one in group]
            self.built.add(minutes >= sum(lengths) - flush_min)

    def _met(self, one: Infusion, other: Infusion) -> Term:
        """A literal: both are on one lumen."""
        met, theirs = self.built.new_bool_var(""), self.encoded.on[other.id]
        for lumen, here in self.encoded.on[one.id].items():
            if lumen in theirs:
                self.built.add_bool_or(here.negated(), theirs[lumen].negated(), met)
                self.built.add_bool_or(here.negated(), theirs[lumen], met.negated())
            else:
                self.built.add_implication(here, met.negated())
        return met

    def _pause(self, name: str, stops: dict[str, Term]) -> tuple[Term, Term]:
        built, met = self.built, stops[name]
        start, end = self._span(name)
        begins = built.new_bool_var("")
        more = built.new_int_var(0, self.problem.horizon_min, "")
        built.add_implication(begins, met)
        built.add(more >= end - start).only_enforce_if(begins)
        ways = [met.negated(), begins]
        for other in stops:
            reach = self._reach(other, name) if other != name else None
            if reach is not None:
                sets_on = built.new_bool_var("")
                built.add_bool_and(met, stops[other], reach).only_enforce_if(sets_on)
                built.add(more >= end - self._span(other)[1]).only_enforce_if(sets_on)
                ways.append(sets_on)
        built.add_bool_or(ways)
        return begins, more

    def _reach(self, early: str, late: str) -> Term | None:
        """A literal: one starts before another and its pause lasts at least until then.

        None where their windows never let it.
        """
        first, second = self.encoded.starts[early], self.encoded.starts[late]
        lasts_min = self._length_min(early) + 2 * self.problem.flush_min
        if second[0] > first[-1] + lasts_min or second[-1] < first[0]:
            return None
        if (early, late) not in self._reached:
            reach = self._reached[early, late] = self.built.new_bool_var("")
            at = self.encoded.at
            self.built.add_implication(reach, self.encoded.before(early, late))
            self.built.add(at[late] <= at[early] + lasts_min).only_enforce_if(reach)
        return self._reached[early, late]

    def _span(self, name: str) -> tuple[Term, Term]:
        """From when to when a timed infusion stops another: with its flushes, within the plan."""
        if name not in self._spans:
            self._spans[name] = self._from(name), self._to(name)
        return self._spans[name]

    def _from(self, name: str) -> Term:
        flush_min, possible = self.problem.flush_min, self.encoded.starts[name]
        start = self.encoded.at[name] - flush_min
        if possible[0] >= flush_min:
            return start
        cut = self.built.new_int_var(0, max(0, possible[-1] - flush_min), "")
        self.built.add_max_equality(cut, [start, 0])
        return cut

    def _to(self, name: str) -> Term:
        length_min = self._length_min(name) + self.problem.flush_min
        end, last = self.encoded.at[name] + length_min, self.problem.horizon_min
        if self.encoded.starts[name][-1] + length_min <= last:
            return end
        cut = self.built.new_int_var(0, last, "")
        self.built.add_min_equality(cut, [end, last])
        return cut

    def _length_min(self, name: str) -> int:
        return self.encoded.by_id[name].duration_min or 0

    def _shortest_min(self, name: str) -> int:
        """The shortest it may stop another: least at an end of the plan, where flushes are cut."""
        one, possible = self.encoded.by_id[name], self.encoded.starts[name]
        spans = (taken(self.problem, one, at) for at in (possible[0], possible[-1]))
        return min(span.end_min - span.start_min for span in spans)
