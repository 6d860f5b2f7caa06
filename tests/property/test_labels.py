"""Any list of ions, however it is printed, reads as it was written, and says what it could not."""

from hypothesis import given
from hypothesis import strategies as st

from app.catalogue.catalogue import Catalogue
from app.catalogue.changes.differences import differences
from app.catalogue.document import document_of
from app.catalogue.entry import fluid_from
from app.catalogue.labels.compared import held_against
from app.catalogue.labels.reading import read_label
from app.catalogue.labels.taken import taken_from
from app.catalogue.labels.words import ION_NAMES, plain, tokens_of

AMOUNTS = st.decimals(min_value="0.01", max_value="999", places=2).map(lambda d: f"{d:f}")
NAMES = st.sampled_from([(key, name) for key, names in ION_NAMES.items() for name in names])
IONS = st.lists(st.tuples(NAMES, AMOUNTS), min_size=1, max_size=8, unique_by=lambda one: one[0][0])
VOLUMES = st.sampled_from([(" per litre", 1000.0), ("/L", 1000.0), (" in 100 mL", 100.0)])
BETWEEN = st.sampled_from(["; ", "\n", ", "])
COMMA = st.booleans()

Ion = tuple[tuple[str, str], str]


@given(IONS, VOLUMES, BETWEEN, COMMA)
def test_names_first(ions: list[Ion], volume: tuple[str, float], between: str, comma: bool) -> None:
    text = between.join(f"{name} {amount} mmol{volume[0]}" for (_, name), amount in ions)
    label = read_label(text.replace(".", ",") if comma else text)
    told = [(one.key, one.number, one.unit, one.basis_ml) for one in label.figures]
    assert told == [(key, amount, "mmol", volume[1]) for (key, _), amount in ions]
    assert label.unread == ()


@given(IONS, VOLUMES)
def test_numbers_first(ions: list[Ion], volume: tuple[str, float]) -> None:
    text = ", ".join(f"{amount} mmol{volume[0]} {name}" for (_, name), amount in ions)
    told = [(one.key, one.number, one.basis_ml) for one in read_label(text).figures]
    assert told == [(key, amount, volume[1]) for (key, _), amount in ions]


@given(IONS)
def test_the_unit_in_front_of_the_list(ions: list[Ion]) -> None:
    text = "mEq/litre: " + "; ".join(f"{name} {amount}" for (_, name), amount in ions)
    told = [(one.key, one.number, one.unit) for one in read_label(text).figures]
    assert told == [(key, amount, "meq") for (key, _), amount in ions]


@given(IONS, st.sampled_from(["glycine", "xylitol", "ethanol", "amino acids"]), AMOUNTS)
def test_something_else_in_the_list_is_named_and_changes_no_figure(
    ions: list[Ion], strange: str, amount: str
) -> None:
    known = "; ".join(f"{name} {value} mmol/L" for (_, name), value in ions)
    label = read_label(f"{known}; {strange} {amount} g/L")
    assert label.figures == read_label(known).figures
    assert any(strange in one and amount in one for one in label.unread)


WORDS = (
    "sodium", "≤", "130", "mmol/L", "between", "and", "to", "-", "ph", "6.5", "(", ")", "%", "g",
    "of", "per 100 mL", "1,000", "<", ";", "1.3e2", "≥4", "not more than", "\n", "kcal",
)  # fmt: skip


@given(st.lists(st.sampled_from(WORDS), max_size=14))
def test_pieces_in_any_order_make_figures_that_can_be_compared(
    catalogue: Catalogue, words: list[str]
) -> None:
    label = read_label(" ".join(words))
    for fluid in list(catalogue)[:3]:
        held_against(label, fluid)
        fluid_from(taken_from(label, document_of(fluid)), file_id=fluid.id)


@given(st.text(max_size=60))
def test_no_letter_of_a_label_is_lost_between_its_pieces(text: str) -> None:
    pieces = "".join(token.text for token in tokens_of(text))
    assert "".join(pieces.split()) == "".join(plain(text).split())


def test_a_label_taken_over_the_entry_it_is_of_changes_nothing(catalogue: Catalogue) -> None:
    for fluid in catalogue:
        document = document_of(fluid)
        ions = document.get("composition_mmol_l", {})
        text = "; ".join(f"{key} {ions[key]:g} mmol/L" for key in ions if key != "not_labelled")
        assert differences(document, taken_from(read_label(text), document)) == (), fluid.id
