"""How good the review is on the panel's cases: `python -m tests.cases.score`.

Cases are kept apart from the rules' own examples and were written without seeing the rules.
"""

import sys
import tomllib
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from app.cautions.example import request_of
from app.cautions.rule import LEVELS
from app.intake.errors import InputError, InputErrors
from app.review.knowledge import Knowledge
from app.review.workflow import review_request

HERE: Final = Path(__file__).resolve().parent
LOUD: Final = LEVELS.index("warning")
DATA_RULES: Final = frozenset({"data-missing", "data-stale", "data-suspect", "order-ambiguous"})


@dataclass(frozen=True)
class Scored:
    """One case and what was said of it: rule id to loudest level's rank."""

    case: dict[str, Any]
    said: dict[str, int]

    @property
    def missed(self) -> tuple[str, ...]:
        """What had to be said and was not, or not loudly enough."""
        wanted = ((w.get("any_of") or [w["rule"]], w["level"]) for w in self.case.get("must", ()))
        return tuple(
            f"{'/'.join(ids)} ({level})"
            for ids, level in wanted
            if min(self.said.get(i, len(LEVELS)) for i in ids) > LEVELS.index(level)
        )

    @property
    def loud(self) -> frozenset[str]:
        """Rules that spoke at warning or above."""
        return frozenset(rule for rule, rank in self.said.items() if rank <= LOUD)

    @property
    def false_alarms(self) -> frozenset[str]:
        """Rules that spoke loudly where they must not, or where nothing may."""
        if self.case.get("quiet"):
            return self.loud
        return self.loud & set(self.case.get("must_not", ()))


def cases() -> list[dict[str, Any]]:
    """Every case of every panel member."""
    files = sorted(HERE.glob("*.toml"))
    return [case for f in files for case in tomllib.loads(f.read_text("utf-8"))["case"]]


def scored(case: dict[str, Any], knowledge: Knowledge) -> Scored:
    """Review one case."""
    try:
        found = review_request(request_of(case), knowledge).all_found
    except (InputError, InputErrors) as refused:
        return Scored(case, {f"refused: {refused}": LOUD + 1})
    said: dict[str, int] = {}
    for one in found:
        rank = LEVELS.index(one.finding.level)
        said[one.rule.id] = min(rank, said.get(one.rule.id, rank))
    return Scored(case, said)


def report(results: list[Scored]) -> str:
    """Sensitivity by level, false alarms, and each miss and false alarm by case."""
    wanted, missed = Counter[str](), Counter[str]()
    lines = []
    for result in results:
        for want in result.case.get("must", ()):
            wanted[want["level"]] += 1
        for miss in result.missed:
            missed[miss.split("(")[1][:-1]] += 1
        if result.missed or result.false_alarms:
            said = ", ".join(f"{r}:{LEVELS[k][0]}" for r, k in sorted(result.said.items()))
            lines.append(f"{result.case['id']} [{result.case['group']}] {result.case['title']}")
            lines += [f"    missed: {miss}" for miss in result.missed]
            lines += [f"    false alarm: {rule}" for rule in sorted(result.false_alarms)]
            lines.append(f"    said: {said}")
    quiet = [r for r in results if r.case.get("quiet")]
    head = [
        f"{level}: {wanted[level] - missed[level]} of {wanted[level]} found" for level in LEVELS
    ]
    head.append(f"quiet cases kept quiet: {sum(not r.loud for r in quiet)} of {len(quiet)}")
    by_rule = Counter(rule for r in results for rule in r.false_alarms)
    head.append(f"false alarms by rule: {dict(by_rule.most_common())}")
    return "\n".join([*head, *lines])


if __name__ == "__main__":
    known = Knowledge.from_seed()
    wanted_ids = sys.argv[1:]
    chosen = [c for c in cases() if not wanted_ids or c["id"].startswith(tuple(wanted_ids))]
    print(report([scored(case, known) for case in chosen]))
