"""Walk the trail from a row on and say everything that is not as it was written. Pure.

What can be seen, and by what: a row changed (its hash), rows gone between others (their numbers), a
row in another's place (hash and number), rows gone at the end (the head row), everything from a row
on written anew with its hashes (the seal, or an anchor kept elsewhere). Nothing within the database
shows a database put back to an earlier state as a whole: only an anchor does.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Final, Literal

from app.storage.audit.chain import Head, Link, hash_of, seal_holds

Kind = Literal["edited", "gap", "moved", "unlinked", "head", "cut", "added", "seal", "anchor"]
# Faults kept in full; the rest are counted.
MOST_KEPT: Final = 200


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is not as it was written. seq: the row it is told of, 0 for the whole."""

    kind: Kind
    seq: int
    text: str

    def __str__(self) -> str:
        return f"{self.kind}: {self.text}"


@dataclass(frozen=True, slots=True)
class Anchor:
    """A hash kept elsewhere. rows: how many there were; None: not said, any row may have it."""

    sha256: str
    rows: int | None = None
    place: str = ""


@dataclass(frozen=True, slots=True)
class Upto:
    """A row up to which the trail was walked, and its hash."""

    rows: int = 0
    last: str = ""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What came of it. more: faults that were only counted. sealed: a sentence on the seal."""

    upto: Upto
    faults: tuple[Fault, ...]
    more: int
    sealed: str

    @property
    def whole(self) -> bool:
        """Whether nothing was found."""
        return not self.faults


FROM_THE_FIRST: Final = Upto()


@dataclass(slots=True)
class Walk:
    """The state of one walk. suspect: rows whose hash does not fit, for a second look."""

    anchors: Sequence[Anchor] = ()
    upto: Upto = FROM_THE_FIRST
    sealed_at: int = 0
    sealed_hash: str = ""
    faults: list[Fault] = field(default_factory=list)
    more: int = 0
    suspect: list[Link] = field(default_factory=list)
    _doubted: bool = False
    _wanted: dict[int, list[Anchor]] = field(default_factory=dict)
    _anywhere: dict[str, Anchor] = field(default_factory=dict)

    def __post_init__(self) -> None:
        by_row: defaultdict[int, list[Anchor]] = defaultdict(list)
        for anchor in self.anchors:
            if anchor.rows is None:
                self._anywhere[anchor.sha256] = anchor
            elif anchor.rows > self.upto.rows:
                by_row[anchor.rows].append(anchor)
        self._wanted = dict(by_row)

    def over(self, links: Iterable[Link]) -> None:
        """Walk over rows in the order of their numbers."""
        for link in links:
            self._step(link)

    def tell(self, kind: Kind, seq: int, text: str) -> None:
        """Note one fault."""
        if len(self.faults) < MOST_KEPT:
            self.faults.append(Fault(kind, seq, text))
        else:
            self.more += 1

    def _step(self, link: Link) -> None:
        due = self.upto.rows + 1
        if link.seq < due:
            self.tell(
                "added", link.seq, f"row {link.seq} is no row of the trail, which starts at 1"
            )
            return
        doubted = hash_of(link) != link.sha256
        if link.seq != due:
            self.tell("gap", due, _gap(due, link.seq - 1))
        elif not (doubted or self._doubted) and link.previous != self.upto.last:
            text = f"row {link.seq} does not follow row {due - 1}: one of the two was put in or "
            self.tell("unlinked", link.seq, text + "written anew, with a hash to fit")
        if doubted:
            self._edited(link)
        if link.seq == self.sealed_at:
            self.sealed_hash = link.sha256
        if link.seq in self._wanted or link.sha256 in self._anywhere:
            self._meet(link)
        self.upto, self._doubted = Upto(link.seq, link.sha256), doubted

    def _edited(self, link: Link) -> None:
        if len(self.suspect) < MOST_KEPT:
            self.suspect.append(link)
        self.tell("edited", link.seq, f"row {link.seq} is not what its hash was made from")

    def _meet(self, link: Link) -> None:
        self._anywhere.pop(link.sha256, None)
        for anchor in self._wanted.pop(link.seq, ()):
            if anchor.sha256 != link.sha256:
                text = f"row {link.seq} has another hash than {_named(anchor)} says: it or a row "
                self.tell("anchor", link.seq, text + "before it was written anew")

    def unmet(self) -> None:
        """Tell of anchors that no row answered to."""
        for rows, anchors in sorted(self._wanted.items()):
            for anchor in anchors:
                text = f"{_named(anchor)} knows {rows} rows; row {rows} is gone"
                self.tell("anchor", rows, text)
        for anchor in self._anywhere.values():
            self.tell("anchor", 0, f"no row has the hash of {_named(anchor)}")


def check(
    links: Iterable[Link],
    head: Head | None,
    key: bytes,
    anchors: Sequence[Anchor] = (),
    start: Upto = FROM_THE_FIRST,
) -> Verdict:
    """Walk rows in the order of their numbers, then hold head, seal and anchors against them.

    start: the last row that was walked before; links begin after it. key: empty without a secret.
    """
    walk = Walk(anchors, start, sealed_at=head.sealed if head else 0)
    if start.rows and head is not None and head.sealed == start.rows:
        walk.sealed_hash = start.last
    walk.over(links)
    walk.faults = _moved(walk.faults, walk.suspect)
    walk.unmet()
    _hold_head(walk, head)
    sealed = _hold_seal(walk, head, key)
    return Verdict(walk.upto, tuple(walk.faults), walk.more, sealed)


def _gap(first: int, last: int) -> str:
    return f"row {first} is gone" if first == last else f"rows {first} to {last} are gone"


def _named(anchor: Anchor) -> str:
    return anchor.place or "the hash kept elsewhere"


def _moved(faults: Sequence[Fault], suspect: Sequence[Link]) -> list[Fault]:
    """Faults of rows whose hash fits another suspect row's number are told as what they are."""
    places = [link.seq for link in suspect]
    moved = {
        link.seq: Fault("moved", link.seq, f"row {link.seq} holds what was recorded as row {place}")
        for link in suspect
        for place in places
        if place != link.seq and hash_of(replace(link, seq=place)) == link.sha256
    }
    return [moved.get(f.seq, f) if f.kind == "edited" else f for f in faults]


def _hold_head(walk: Walk, head: Head | None) -> None:
    rows = walk.upto.rows
    if head is None:
        walk.tell("head", 0, "the head row, which says how many rows there are, is gone")
    elif head.count > rows:
        gone = _gap(rows + 1, head.count)
        walk.tell("cut", rows + 1, f"the end was cut off: {gone} by what the head row says")
    elif head.count < rows:
        text = f"there are {rows} rows and the head row knows {head.count}: rows were put in at "
        walk.tell("added", head.count + 1, text + "the end, or the head row was put back")
    elif head.last != walk.upto.last:
        text = f"the head row has another hash than row {rows}: the last row was written anew, or "
        walk.tell("head", rows, text + "the head row was")


def _hold_seal(walk: Walk, head: Head | None, key: bytes) -> str:
    """Tell of a seal that does not hold; the sentence that says what the seal is worth."""
    if head is None or not head.count:
        return "there is nothing to seal yet"
    if not key:
        return _without_key(head)
    fault = _seal_fault(walk, head, key)
    if fault:
        walk.tell("seal", head.sealed, fault)
        return fault
    return f"sealed up to row {head.sealed}"


def _without_key(head: Head) -> str:
    if not head.seal:
        return "not sealed, for want of a secret: who may write to the database may write it anew"
    return "sealed, but not held against the seal: the secret is not at hand"


def _seal_fault(walk: Walk, head: Head, key: bytes) -> str:
    if not head.seal:
        return "there is a secret and no seal: it was never begun, or was taken off"
    if head.sealed > walk.upto.rows:
        return f"the seal speaks for {head.sealed} rows, and there are {walk.upto.rows}"
    if not seal_holds(head.sealed, walk.sealed_hash, key, head.seal):
        return "the seal does not hold: rows were written anew, or it was made with another secret"
    if head.sealed < head.count:
        after = head.sealed + 1
        return f"from row {after} on acts were written by a program without the secret"
    return ""
