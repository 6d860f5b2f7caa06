"""Each fault is planted in a trail and found by what can find it; what cannot be found is said."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from app.storage.audit.chain import Head, Link, hash_of, key_of, seal_of
from app.storage.audit.check import MOST_KEPT, Anchor, Upto, Verdict, check

AT = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
KEY = key_of("a secret of the ward's own")
ROWS = 9


def chained(links: Sequence[Link]) -> list[Link]:
    """Rows with their numbers and hashes made anew, as a forger who has the database would."""
    made: list[Link] = []
    for seq, link in enumerate(links, 1):
        previous = made[-1].sha256 if made else ""
        link = replace(link, seq=seq, previous=previous)
        made.append(replace(link, sha256=hash_of(link)))
    return made


def trail(rows: int = ROWS) -> list[Link]:
    return chained(
        [
            Link(
                0, AT + timedelta(minutes=n), "K. Osei", "k.osei", "told stock",
                f"stock:fluid-{n}", '{"state":"on the ward"}', '{"state":"out"}', "",
            )
            for n in range(1, rows + 1)
        ]
    )  # fmt: skip


def head_of(links: Sequence[Link], *, key: bytes = b"") -> Head:
    count, last = len(links), links[-1].sha256
    return Head(count, last, count if key else 0, seal_of(count, last, key) if key else "")


def told(verdict: Verdict) -> list[tuple[str, int]]:
    return [(fault.kind, fault.seq) for fault in verdict.faults]


def test_an_untouched_trail_is_whole() -> None:
    links = trail()
    verdict = check(links, head_of(links), b"")
    assert verdict.whole
    assert verdict.upto == Upto(ROWS, links[-1].sha256)
    assert "for want of a secret" in verdict.sealed


def test_a_sealed_trail_is_whole_and_says_how_far_it_is_sealed() -> None:
    links = trail()
    verdict = check(links, head_of(links, key=KEY), KEY)
    assert (verdict.faults, verdict.sealed) == ((), f"sealed up to row {ROWS}")


def test_a_trail_that_has_not_begun_is_whole() -> None:
    for key in (b"", KEY):
        verdict = check([], Head(0, "", 0, ""), key)
        assert (verdict.whole, verdict.upto) == (True, Upto())
        assert "nothing to seal" in verdict.sealed


EDITS: dict[str, Any] = {
    "at": AT,
    "who": "K. Oseï",
    "account_id": "k.ose1",
    "act": "told lumen",
    "subject": "stock:fluid-44",
    "before": None,
    "after": '{"state":"short"}',
    "previous": "0" * 64,
    "sha256": "f" * 64,
}


def test_every_column_but_the_number_has_an_edit_planted_in_it() -> None:
    assert set(EDITS) == set(Link.__dataclass_fields__) - {"seq"}


@pytest.mark.parametrize("column", EDITS)
@pytest.mark.parametrize("row", [1, 5, ROWS])
def test_an_edit_of_any_column_is_told_of_its_row(column: str, row: int) -> None:
    links = trail()
    links[row - 1] = replace(links[row - 1], **{column: EDITS[column]})
    verdict = check(links, head_of(trail()), b"")
    assert ("edited", row) in told(verdict)
    # A last row whose own hash was changed is no longer the one the head row has either.
    beside = {("head", row)} if (column, row) == ("sha256", ROWS) else set()
    assert set(told(verdict)) == {("edited", row)} | beside


def test_a_blank_put_into_a_document_is_an_edit() -> None:
    links = trail()
    links[3] = replace(links[3], after='{"state": "out"}')
    assert told(check(links, head_of(links), b"")) == [("edited", 4)]


@pytest.mark.parametrize("row", [1, 5, ROWS])
def test_a_row_edited_with_its_own_hash_made_anew_no_longer_fits_the_next(row: int) -> None:
    links = trail()
    forged = replace(links[row - 1], who="Somebody Else")
    links[row - 1] = replace(forged, sha256=hash_of(forged))
    verdict = check(links, head_of(trail()), b"")
    assert told(verdict) == [("head", ROWS) if row == ROWS else ("unlinked", row + 1)]


@pytest.mark.parametrize(
    ("gone", "said"),
    [((5,), "row 5 is gone"), ((3, 4, 5), "rows 3 to 5 are gone"), ((1,), "row 1")],
)
def test_rows_taken_from_the_middle_or_the_start_leave_a_gap(
    gone: tuple[int, ...], said: str
) -> None:
    links = [link for link in trail() if link.seq not in gone]
    verdict = check(links, head_of(trail()), b"")
    assert told(verdict) == [("gap", gone[0])]
    assert said in verdict.faults[0].text


def test_a_row_taken_out_and_the_rest_numbered_anew_is_found_from_there_on() -> None:
    links = [replace(link, seq=seq) for seq, link in enumerate(trail()[:4] + trail()[5:], 1)]
    verdict = check(links, head_of(trail()), b"")
    assert ("edited", 5) in told(verdict) or ("moved", 5) in told(verdict)
    assert ("cut", ROWS) in told(verdict)


def test_an_end_cut_off_is_found_by_the_head_row() -> None:
    verdict = check(trail()[:-2], head_of(trail()), b"")
    assert told(verdict) == [("cut", ROWS - 1)]
    assert "rows 8 to 9 are gone" in verdict.faults[0].text


def test_all_rows_taken_away_are_found_by_the_head_row() -> None:
    assert told(check([], head_of(trail()), b"")) == [("cut", 1)]


def test_an_end_cut_off_with_the_head_row_mended_is_not_found_within_the_database() -> None:
    cut = trail()[:-2]
    assert check(cut, head_of(cut), b"").whole


def test_an_end_cut_off_with_the_head_row_mended_is_found_by_an_anchor() -> None:
    cut, anchor = trail()[:-2], Anchor(trail()[-1].sha256, ROWS, "anchors.txt, line 1")
    verdict = check(cut, head_of(cut), b"", [anchor])
    assert told(verdict) == [("anchor", ROWS)]
    assert "anchors.txt, line 1 knows 9 rows; row 9 is gone" in verdict.faults[0].text


def test_an_end_cut_off_with_the_head_row_mended_is_found_by_the_seal() -> None:
    cut, before = trail()[:-2], head_of(trail(), key=KEY)
    mended = replace(before, count=len(cut), last=cut[-1].sha256)
    assert told(check(cut, mended, KEY)) == [("seal", ROWS)]
    lower = replace(mended, sealed=len(cut))
    assert told(check(cut, lower, KEY)) == [("seal", len(cut))]
    taken_off = replace(mended, sealed=0, seal="")
    assert told(check(cut, taken_off, KEY)) == [("seal", 0)]


def test_a_whole_earlier_state_put_back_is_found_by_an_anchor_alone() -> None:
    earlier = trail()[:-2]
    head = head_of(earlier, key=KEY)
    assert check(earlier, head, KEY).whole
    assert not check(earlier, head, KEY, [Anchor(trail()[-1].sha256, ROWS)]).whole
    emptied = check([], Head(0, "", 0, ""), KEY, [Anchor(trail()[-1].sha256, ROWS)])
    assert told(emptied) == [("anchor", ROWS)]


def test_two_rows_in_each_others_place_are_told_as_such() -> None:
    links = trail()
    links[2], links[6] = replace(links[6], seq=3), replace(links[2], seq=7)
    verdict = check(links, head_of(trail()), b"")
    assert told(verdict) == [("moved", 3), ("moved", 7)]
    assert verdict.faults[0].text == "row 3 holds what was recorded as row 7"


def test_a_row_put_in_between_moves_all_after_it() -> None:
    links = trail()
    forged = replace(links[0], subject="stock:forged")
    links.insert(4, forged)
    shifted = [replace(link, seq=seq) for seq, link in enumerate(links, 1)]
    verdict = check(shifted, head_of(trail()), b"")
    assert verdict.faults[0].seq == 5
    assert ("added", ROWS + 1) in told(verdict)


def test_a_row_put_in_at_the_end_is_more_than_the_head_row_knows() -> None:
    longer = chained([*trail(), trail()[0]])
    assert told(check(longer, head_of(trail()), b"")) == [("added", ROWS + 1)]


def test_a_row_put_in_before_the_first_is_no_row_of_the_trail() -> None:
    verdict = check([replace(trail()[0], seq=0), *trail()], head_of(trail()), b"")
    assert told(verdict) == [("added", 0)]


def written_anew(row: int) -> list[Link]:
    links = trail()
    links[row - 1] = replace(links[row - 1], who="Somebody Else")
    return chained(links)


def test_a_chain_written_anew_from_a_row_on_is_found_by_the_head_row() -> None:
    assert told(check(written_anew(5), head_of(trail()), b"")) == [("head", ROWS)]


def test_a_chain_and_its_head_row_written_anew_are_not_found_within_the_database() -> None:
    assert check(written_anew(5), head_of(written_anew(5)), b"").whole


def test_a_chain_and_its_head_row_written_anew_are_found_by_the_seal() -> None:
    forged = written_anew(5)
    kept = replace(head_of(forged), sealed=ROWS, seal=head_of(trail(), key=KEY).seal)
    assert told(check(forged, kept, KEY)) == [("seal", ROWS)]
    without_secret = check(forged, kept, b"")
    assert without_secret.whole
    assert "the secret is not at hand" in without_secret.sealed


@pytest.mark.parametrize("row", [1, 5, ROWS])
def test_a_chain_written_anew_is_found_by_any_anchor_at_or_after_the_row(row: int) -> None:
    forged = written_anew(row)
    for rows in range(1, ROWS + 1):
        verdict = check(forged, head_of(forged), b"", [Anchor(trail()[rows - 1].sha256, rows)])
        assert told(verdict) == ([("anchor", rows)] if rows >= row else [])


def test_an_expected_hash_may_be_of_any_row_but_must_be_of_one() -> None:
    links = trail()
    for link in links:
        assert check(links, head_of(links), b"", [Anchor(link.sha256)]).whole
    assert told(check(links, head_of(links), b"", [Anchor("0" * 64)])) == [("anchor", 0)]


def test_the_head_row_may_be_gone() -> None:
    assert told(check(trail(), None, KEY)) == [("head", 0)]


def test_rows_written_without_the_secret_are_told() -> None:
    links = trail()
    sealed = head_of(links[:6], key=KEY)
    head = replace(sealed, count=ROWS, last=links[-1].sha256)
    verdict = check(links, head, KEY)
    assert told(verdict) == [("seal", 6)]
    assert "from row 7 on" in verdict.sealed


def test_another_secret_is_told_as_a_seal_that_does_not_hold() -> None:
    links = trail()
    verdict = check(links, head_of(links, key=KEY), key_of("another secret than that"))
    assert "another secret" in verdict.sealed
    assert told(verdict) == [("seal", ROWS)]


@pytest.mark.parametrize("start", [1, 4, ROWS])
def test_a_walk_may_go_on_where_the_last_one_ended(start: int) -> None:
    links, head = trail(), head_of(trail(), key=KEY)
    begun = Upto(start, links[start - 1].sha256)
    verdict = check(links[start:], head, KEY, start=begun)
    assert (verdict.whole, verdict.upto.rows) == (True, ROWS)
    assert verdict.sealed == f"sealed up to row {ROWS}"


def test_a_walk_that_goes_on_finds_that_the_row_it_ended_at_is_another_now() -> None:
    forged = written_anew(3)
    begun = Upto(4, trail()[3].sha256)
    assert told(check(forged[4:], head_of(forged), b"", start=begun)) == [("unlinked", 5)]


def test_of_very_many_faults_the_first_are_told_and_the_rest_counted() -> None:
    links = [replace(link, who="X") for link in trail(MOST_KEPT + 7)]
    verdict = check(links, head_of(trail(MOST_KEPT + 7)), b"")
    assert (len(verdict.faults), verdict.more) == (MOST_KEPT, 7)
