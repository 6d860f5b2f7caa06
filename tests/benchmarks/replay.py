"""A hospital's year of past orders replayed: on this machine's cores, and on a Dask cluster."""

from collections.abc import Callable, Iterator
from dataclasses import replace

import orjson

from app.review.knowledge import Knowledge
from app.review.replay.answer import Past
from app.review.replay.compare import Terms, compare
from app.review.replay.packed import pack
from app.review.replay.pool import Job, Watch, cores, count_on_cores
from app.review.replay.tally import Tally
from app.review.replay.work import Part, Raw, parts_of
from app.storage.demo_files import read_unit_file
from app.storage.past.invented import invented_past
from app.storage.past.past import setting_of
from app.storage.past.stories import read_stories

# A hospital of some 500 beds with fluids (our estimate): 200,000 orders a year.
YEAR_ORDERS = 200_000
REQUESTS_A_PART = 100
LIMIT = "ord-water-total", "excess_ml_kg_day", 30.5

Row = tuple[str, float, str, str, float]


def month() -> list[Past]:
    """The demo's thirty days."""
    until = read_unit_file().fixed_now
    assert until is not None
    made = enumerate(invented_past(read_stories(), until), start=1)
    return [Past(n, at, request, setting_of(request)) for n, (at, request) in made]


def year(of: list[Past]) -> Iterator[Raw]:
    """The month over and over, to a year of a hospital."""
    raws = [(p.id, p.at, p.setting, orjson.dumps(p.request).decode()) for p in of]
    orders, number = 0, 0
    while orders < YEAR_ORDERS:
        for past, (_, at, setting, text) in zip(of, raws, strict=True):
            number += 1
            orders += past.orders
            yield number, at, setting, text


def two() -> tuple[Knowledge, Knowledge]:
    """What is shipped, and the same with one limit otherwise."""
    known = Knowledge.from_seed()
    rule, name, value = LIMIT
    own = {**known.ruleset.limits[rule], name: value}
    limits = {**known.ruleset.limits, rule: own}
    return known, known.having(ruleset=replace(known.ruleset, limits=limits, version="other"))


def rows(milliseconds: Callable[[Callable[[], object]], float]) -> Iterator[Row]:
    """One process over a month is the yardstick; a year on all cores and on a cluster."""
    before, after = two()
    past = month()
    orders = sum(one.orders for one in past)
    compare(before, after, past[:200])
    one_ms = milliseconds(lambda: compare(before, after, past))
    one = orders / one_ms * 1000
    yield f"replay in one process, {orders} orders", one, "orders/s", "none", 1.0
    job, raws = Job(pack(before, after), Terms()), list(year(past))
    whole: list[Tally] = []

    def on_cores() -> None:
        whole.append(count_on_cores(job, _parts(raws), Watch()))

    def on_cluster() -> None:
        whole.append(_on_cluster(job, raws))

    for name, work in (
        (f"replay of a year on {cores()} cores", on_cores),
        (f"replay of a year on a Dask cluster of {cores()} processes", on_cluster),
    ):
        took_ms = milliseconds(work)
        of = whole[-1].before.all_orders
        rate = of / took_ms * 1000
        told = f"{name}, {of:,} orders in {took_ms / 1000:.0f} s"
        yield told, rate, "orders/s", f"one process ({one:.0f} orders/s)", rate / one
    same = float(whole[0] == whole[1])
    yield "both give the same answer to the digit", same, "1 is yes", "none", 1.0


def _parts(raws: list[Raw]) -> Iterator[Part]:
    return parts_of(raws, REQUESTS_A_PART)


def _on_cluster(job: Job, raws: list[Raw]) -> Tally:
    from distributed import LocalCluster

    from app.review.replay.cluster import count_on_cluster

    with LocalCluster(
        n_workers=cores(), threads_per_worker=1, processes=True, dashboard_address=None
    ) as made:
        return count_on_cluster(job, _parts(raws), Watch(), address=made.scheduler_address)
