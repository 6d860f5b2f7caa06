"""Names of fluids as people write them."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.intake.fluids import NameBook, name_book
from app.intake.vocabulary import Vocabulary

SALINE, HALF = "sodium-chloride-0.9", "sodium-chloride-0.45"
LR, CSL = "lactated-ringers", "compound-sodium-lactate"
D5HALF = "dextrose-5-sodium-chloride-0.45"
KCL20, KCL40 = (f"potassium-chloride-{n}-sodium-chloride-0.9" for n in (20, 40))

ONE_MEANING = {
    SALINE: ["0.9% NaCl", "NS", "ns", "N/S", "normal saline", "Normal Saline",
    "0.9 % sodium chloride",
             "sodium chloride 0.9%", "Sodium chloride 0,9%", "0.9%NaCl", "NaCl 0.9 %",
             "saline 0.9%",
             "0.9 saline", "isotonic saline", "physiological saline", "nacl-0.9",
             "sodium-chloride-0.9", "0·9% sodium chloride", "1 L 0.9% sodium chloride",
             "sodium chloride 0.9% intravenous infusion", "0.9% sodium chloride 1000 mL",
             "normal saline 0.9%", "0.9% Sodium Chloride Inj 1000 mL IV", "0.9NS", "n. saline",
             "sodium chloride 0.9% w/v", "NaCl 9 mg/ml", "saline", "nomal saline", "N/saline",
             "IVF: NS", "NaCl 154 mmol/L", "Normal saline via PIV", "NS 1000",
             "sodium chloride 9 mg/mL (0.9%)",
             "suero fisiológico", "sérum physiologique", "Kochsalz 0,9%", "NaCl 9 g/L"],
    HALF: ["1/2 NS", "½NS", "½ NS", "half normal saline", "half-normal saline", "0.45 saline",
           "0.45% NaCl", "half strength saline", "NaCl 0.45%", "0.45NS", "0.45% NS", "0.5NS"],
    "sodium-chloride-0.225": ["1/4 NS", "quarter normal saline", "0.225% sodium chloride"],
    "sodium-chloride-3": ["3% saline", "3% NaCl", "sodium chloride 3%", "3 % hypertonic saline"],
    "sodium-chloride-23.4": ["23.4% sodium chloride", "NaCl 23.4%"],
    LR: ["LR", "RL", "R/L", "lactatd ringers", "Ringer lactate (Hartmann)",
         "Ringers (lactated)",
         "lactated Ringer's", "lactated ringers", "Lactated Ringer’s injection",
         "Ringer's lactate", "Ringer lactate", "ringers-lactate", "lr-us", "lactated-ringers",
         "Ringer-Laktat", "Ringers laktat", "Ringer lactato"],
    CSL: ["CSL", "Hartmans", "Harmanns", "compound sod. lactate",
          "Hartmann's", "Hartmanns", "hartmann’s solution", "compound sodium lactate",
          "Compound Sodium Lactate BP", "csl-uk"],
    "ringers-acetate": ["Ringer's acetate", "ringer acetate"],
    "dextrose-5": ["D5W", "D5", "d5w", "5% dextrose", "dextrose 5%", "5 % dextrose in water"],
    "glucose-5": ["5% glucose", "glucose 5%", "Glucose 5 %", "glucosé 5 %", "Glucosa 5%",
                  "glucose 50 mg/ml", "glukos 50 mg/ml", "glucose 50 g/L"],
    "sodium-lactate-sixth-molar": ["1/6 molar sodium lactate", "M/6 lactate",
                                   "sodium lactate M/6"],
    "potassium-chloride-concentrate": ["undiluted KCl 2 mmol/mL", "KCl 20 mmol/10 mL",
                                       "potassium chloride 2 mmol/mL"],
    "ringers-injection": ["Ringer's injection", "plain Ringer's", "ringers-injection"],
    "dextrose-10": ["D10", "D10W", "10% dextrose"],
    "glucose-10": ["10% glucose", "glucose 10%"],
    "dextrose-50": ["D50", "50% dextrose 50 mL"],
    D5HALF: ["D5 1/2NS", "D51/2NS", "D5 .45", "N/2 DNS", "5% dex in N/2 saline",
             "D5½NS", "D5 0.45 NaCl", "5% dextrose in 0.45% sodium chloride",
             "dextrose 5% and sodium chloride 0.45%", "0.45% NaCl with 5% dextrose"],
    "dextrose-5-sodium-chloride-0.9": ["DNS", "D5NS", "D5 NS", "5% dextrose in 0.9% saline"],
    "dextrose-5-sodium-chloride-0.2": ["D5 1/4 NS", "D5 0.2NS", "D5 0.2% NS",
                                       "dextrose 5% in 0.2% saline"],
    "dextrose-5-lactated-ringers": ["D5LR", "D5 LR", "5% dextrose in lactated Ringer's"],
    "glucose-4-sodium-chloride-0.18": ["4% / 0.18% dextrose saline", "dex/saline 4%/0.18%",
                                       "4% dextrose + 1/5 NS", "dextrose saline 0.18%",
                                       "4% dextrose 0.18% saline", "dextrose 4%/saline 0.18%",
                                       "glucose 4% and sodium chloride 0.18%"],
    "multiple-electrolytes-type-1-ph-7.4": ["multiple electrolytes injection type 1 pH 7.4",
                                            "multiple electrolytes injection, type 1, pH 7.4"],
    "multiple-electrolytes-type-1-phosphate": ["multiple electrolytes type 1 with phosphate"],
    "albumin-20": ["20% albumin", "HAS 20%", "albumin 20%", "20% human albumin"],
    "albumin-4": ["4% albumin"],
    "sterile-water": ["water", "sterile water", "sterile H2O for inj", "SWFI",
                      "water for injection"],
    "sodium-bicarbonate-8.4": ["8.4% bicarb", "sodium bicarbonate 8.4%", "NaHCO3 8.4%"],
    "mannitol-20": ["20% mannitol", "mannitol 20%", "manitol 20 %", "mannitol 20% 50 g"],
    "hydroxyethyl-starch-6": ["HES 130/0.4", "6% hydroxyethyl starch", "HES 130/0.4 6%",
                              "HES 6% 130/0.4", "tetrastarch 6%"],
    "gelatin-4": ["gelatin in saline"],
    "calcium-gluconate-10": ["10 mL of 10% calcium gluconate", "Ca gluc 10% 10 mL (2.2 mmol)",
                             "10% calcium gluconate", "calcium gluconate 10%"],
    KCL20: ["NS + 20 KCl", "NS c 20K", "NS w/ 20 of K",
            "0.9% sodium chloride with potassium chloride 20 mmol/L", "NS with 20 mEq/L KCl",
            "0.15% potassium chloride in 0.9% sodium chloride"],
    KCL40: ["0.9% saline with 40 mmol KCl/L", "sodium chloride 0.9% with potassium chloride 0.3%",
            "KCl 40 mmol/L in NS"],
}  # fmt: skip

SEVERAL = {
    "Ringers": {LR, CSL, "ringers-injection", "ringers-acetate", "acetated-ringers"},
    "dextrose saline": {D5HALF, "glucose-4-sodium-chloride-0.18"},
    "balanced crystalloid": {LR, CSL},
    "multiple electrolytes injection type 1": {"multiple-electrolytes-type-1-ph-7.4",
                                               "multiple-electrolytes-type-1-ph-5.5"},
    "hypertonic saline": {"sodium-chloride-3", "sodium-chloride-5"},
    "albumin": {"albumin-4", "albumin-5", "albumin-20", "albumin-25"},
    "sodium chloride": {SALINE, HALF},
    "5% dextrose and saline": {D5HALF, "dextrose-5-sodium-chloride-0.9"},
    "dextrose": {"dextrose-5", "dextrose-10"},
    "D5 saline": {D5HALF, "dextrose-5-sodium-chloride-0.9"},
    "isotonic bicarbonate": {"sodium-bicarbonate-1.26", "sodium-bicarbonate-1.4"},
    "sodium bicarbonate": {"sodium-bicarbonate-8.4", "sodium-bicarbonate-1.26"},
    "gelatin 4%": {"gelatin-4", "gelatin-4-balanced"},
}  # fmt: skip


@pytest.fixture(scope="module")
def book(catalogue: Catalogue, vocabulary: Vocabulary) -> NameBook:
    """The catalogue's names."""
    return name_book(catalogue, vocabulary)


@pytest.mark.parametrize(
    ("written", "fluid_id"),
    [(written, fluid_id) for fluid_id, names in ONE_MEANING.items() for written in names],
)
def test_a_name_means_one_fluid(book: NameBook, written: str, fluid_id: str) -> None:
    reading = book.read(written)
    assert reading.fluid is not None, reading
    assert (reading.fluid.id, reading.ask, reading.doses) == (fluid_id, "", ())


def test_every_catalogue_name_means_itself(book: NameBook, catalogue: Catalogue) -> None:
    for fluid in catalogue:
        for name in (fluid.name, fluid.reference_id, *fluid.search_words):
            assert book.read(name).fluid is fluid, name


@pytest.mark.parametrize(("written", "may_mean"), SEVERAL.items())
def test_a_name_that_fits_several_is_asked_about(
    book: NameBook, written: str, may_mean: set[str]
) -> None:
    reading = book.read(written)
    assert reading.fluid is None
    assert may_mean <= {fluid.id for fluid in reading.candidates}
    assert reading.ask and len(reading.choices) == len(reading.candidates)


@pytest.mark.parametrize(
    "written", ["normal saline 0.45%", "9% sodium chloride", "lactd rngrs", "NS 125", "KCl 20?",
    "Hartmann's with normal saline", "NS 1 L 20-40 mmol KCl",
    "the usual baby mix", "0.9% saline with magic",
    "7% saline"]
)  # fmt: skip
def test_a_doubtful_name_is_never_used(book: NameBook, written: str) -> None:
    reading = book.read(written)
    assert reading.fluid is None and not reading.candidates
    assert reading.ask


@pytest.mark.parametrize(
    ("written", "fluid_id"),
    [("nacl_0_45", "sodium-chloride-0.45"), ("d5_nacl_0_2", "dextrose-5-sodium-chloride-0.2"),
     ("mel1_ph5_5", "multiple-electrolytes-type-1-ph-5.5"), ("saline_513", "sodium-chloride-3"),
     ("kcl20_nacl_0_9", "potassium-chloride-20-sodium-chloride-0.9"),
     ("albumin-20", "albumin-20"), ("hes_6", "hydroxyethyl-starch-6")],
)  # fmt: skip
def test_an_id_in_other_signs_is_the_same_fluid(
    book: NameBook, written: str, fluid_id: str
) -> None:
    fluid = book.read(written).fluid
    assert fluid is not None and fluid.id == fluid_id


@pytest.mark.parametrize("written", ["kcl_15", "kcl-15", "saline_200", "albumin_855", "blorf_20"])
def test_an_id_that_may_mean_an_amount_or_nothing_is_not_used(book: NameBook, written: str) -> None:
    assert book.read(written).fluid is None


@pytest.mark.parametrize(
    ("written", "weaker", "grams_l"),
    [("dextrose 12.5%", "dextrose-10", 25), ("D12.5W", "dextrose-10", 25),
     ("12.5% glucose", "glucose-10", 25), ("D7.5", "dextrose-5", 25), ("D25", "dextrose-20", 50)],
)  # fmt: skip
def test_a_strength_no_bag_has_is_the_next_weaker_with_glucose(
    book: NameBook, written: str, weaker: str, grams_l: float
) -> None:
    reading = book.read(written)
    (dose,) = reading.doses
    assert reading.fluid is not None and reading.fluid.id == weaker and reading.ask == ""
    assert dose.key == "glucose" and dose.quantity is not None
    assert (dose.quantity.number, dose.quantity.per_litre) == (grams_l, True)


@pytest.mark.parametrize(
    ("written", "ml"),
    [
        ("50% dextrose 25 g", 50),
        ("20% glucose 20 g", 100),
        ("50% dextrose 50 mL", 50),
        ("25 g of 50% dextrose", 50),
    ],
)
def test_grams_of_strong_glucose_are_a_volume(book: NameBook, written: str, ml: float) -> None:
    reading = book.read(written)
    assert reading.fluid is not None and reading.volume_ml == pytest.approx(ml)


@pytest.mark.parametrize("written", ["2.5% dextrose", "dextrose 90%", "2 NS"])
def test_a_strength_that_nothing_weaker_makes_is_asked_about(book: NameBook, written: str) -> None:
    assert book.read(written).fluid is None


def test_a_typing_error_gets_near_names_as_choices(book: NameBook) -> None:
    assert any("lactated Ringer's" in name for name in book.read("lactated rngrs").choices)


@pytest.mark.parametrize(
    ("written", "fluid_id", "key"),
    [
        ("5% dextrose with 40 mmol KCl", "dextrose-5", "potassium_chloride"),
        ("LR + 20 KCl", LR, "potassium_chloride"),
        ("bicarb 150 in D5W", "dextrose-5", "sodium_bicarbonate"),
        ("3 amps bicarb (50 mEq/amp) in 1 L D5W", "dextrose-5", "sodium_bicarbonate"),
        ("KCl 20 mmol (10 mL of 15%) in 500 mL NS", SALINE, "potassium_chloride"),
        ("150 mmol sodium bicarbonate in 1 L 5% dextrose", "dextrose-5", "sodium_bicarbonate"),
        ("isotonic bicarbonate (150 mmol in 1 L 5% dextrose)", "dextrose-5", "sodium_bicarbonate"),
        ("D5W with 150 mL of 8.4% sodium bicarbonate", "dextrose-5", "sodium_bicarbonate"),
        ("10 mL of 15% potassium chloride in 1 L saline 0.9%", SALINE, "potassium_chloride"),
        ("insulin 50 units in 50 mL 0.9% saline", SALINE, "insulin"),
        ("oxytocin 10 units in 500 mL normal saline", SALINE, "oxytocin"),
        ("norepinephrine in 5% dextrose", "dextrose-5", "norepinephrine"),
        ("Hartmann's + magnesium sulfate 2 g", CSL, "magnesium_sulfate"),
    ],
)
def test_what_is_added_is_read_out_of_the_name(
    book: NameBook, written: str, fluid_id: str, key: str
) -> None:
    reading = book.read(written)
    assert reading.fluid is not None and reading.fluid.id == fluid_id
    assert [dose.key for dose in reading.doses] == [key]


def test_twenty_mmol_in_the_litre_bag_is_the_factory_made_bag(book: NameBook) -> None:
    premixed = book.read("NS with 20 mmol KCl", 1000).fluid
    assert premixed is not None and premixed.id == KCL20
    half_litre = book.read("NS with 20 mmol KCl", 500)
    assert half_litre.fluid is not None and half_litre.fluid.id == SALINE and half_litre.doses


@pytest.mark.parametrize("written", ["calcium gluconate infusion", "norepinephrine", "insulin"])
def test_a_drug_without_its_fluid_is_asked_about(book: NameBook, written: str) -> None:
    reading = book.read(written)
    assert reading.fluid is None and reading.doses and "fluid" in reading.ask


def test_a_volume_in_the_name_is_kept(book: NameBook) -> None:
    assert book.read("0.9% sodium chloride 500 mL").volume_ml == 500


@pytest.mark.parametrize("written", ["parenteral nutrition 1200 mOsm/L", "blood", "plasma"])
def test_blood_and_nutrition_are_no_fluids_of_the_catalogue(book: NameBook, written: str) -> None:
    reading = book.read(written)
    assert reading.fluid is None and reading.doses and "no fluid of the catalogue" in reading.ask


@pytest.mark.parametrize(
    ("written", "keys"),
    [
        ("10% dextrose with sodium 30 mmol/L and potassium 20 mmol/L",
         ["sodium_chloride", "potassium_chloride"]),
        ("D10 + NaCl 3 mmol/kg/day + KCl 2 mmol/kg/day",
         ["sodium_chloride", "potassium_chloride"]),
        ("10% dextrose with Na 30 mmol/L and K 10 mmol/L",
         ["sodium_chloride", "potassium_chloride"]),
    ],
)  # fmt: skip
def test_ions_named_as_added_are_read_as_their_chloride(
    book: NameBook, written: str, keys: list[str]
) -> None:
    reading = book.read(written)
    assert reading.fluid is not None and reading.fluid.id == "dextrose-10"
    assert reading.ask == "" and [dose.key for dose in reading.doses] == keys
