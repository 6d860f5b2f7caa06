"""Labels as pharmacopoeial labels print them: figures of seed_data/, wording ours."""

# What it is, the fluid, and the label's text.
TRUE_LABELS = {
    "lactated-ringers": (
        "lactated-ringers",
        "Each 100 mL contains: Sodium Chloride 0.6 g; Sodium Lactate 0.31 g; "
        "Potassium Chloride 0.03 g; Calcium Chloride Dihydrate 0.02 g\npH: 6.6 "
        "(6.0–7.5) Osmolarity: 273 mOsmol/Liter (calc)\nConcentration of Electrolytes "
        "(mEq/liter): Sodium 130; Potassium 4; Calcium 2.7; Chloride 109; Lactate 28",
    ),
    "compound-sodium-lactate": (
        "compound-sodium-lactate",
        "Na+ 131 mmol/l  K+ 5 mmol/l Ca2+ 2 mmol/l Cl- 111 mmol/l lactate 29 mmol/l. "
        "pH 5.0 to 7.0. Osmolarity 278 mOsm/l",
    ),
    "sodium-chloride-0.9": (
        "sodium-chloride-0.9",
        "1000 ml contains: sodium chloride 9,0 g. mmol per litre: Na 154, Cl 154",
    ),
    "multiple-electrolytes-type-1-ph-7.4": (
        "multiple-electrolytes-type-1-ph-7.4",
        "Na⁺ 140, K⁺ 5, Mg²⁺ 1.5, Cl⁻ 98, acetate 27, gluconate 23 mmol/L; pH 7.4 (6.5 to 8.0)",
    ),
    "acetate-malate-balanced": (
        "acetate-malate-balanced",
        "Electrolytes (mmol/l): sodium (Na+) 145, potassium (K+) 4.0, magnesium "
        "(Mg2+) 1.0, calcium (Ca2+) 2.5, chloride (Cl-) 127, acetate 24, malate 5. "
        "Sodium chloride 6.8 g, potassium chloride 0.3 g, magnesium chloride "
        "hexahydrate 0.2 g, calcium chloride dihydrate 0.37 g, sodium acetate "
        "trihydrate 3.27 g, malic acid 0.67 g, sodium hydroxide 0.2 g per 1000 ml. "
        "Theoretical osmolarity: 309 mosmol/l. pH: 5.1 - 5.9",
    ),
    "dextrose-5": (
        "dextrose-5",
        "Dextrose monohydrate 50 g/L. Osmolarity 252 mOsm/L, pH 4.3 (3.2 to 6.5), 170 kcal/L",
    ),
    "dextrose-5-sodium-chloride-0.45": (
        "dextrose-5-sodium-chloride-0.45",
        "50 g dextrose hydrous and 4.5 g sodium chloride per litre; sodium 77 mEq/L, "
        "chloride 77 mEq/L",
    ),
    "sodium-chloride-0.45": (
        "sodium-chloride-0.45",
        "Sodium 38.5 mmol and chloride 38.5 mmol per 500 mL",
    ),
    "sodium-bicarbonate-8.4": (
        "sodium-bicarbonate-8.4",
        "Sodium bicarbonate 84 mg in 1 mL; sodium 1 mmol, bicarbonate 1 mmol in 1 mL",
    ),
    "glucose-5": (
        "glucose-5",
        "Anhydrous glucose 5% w/v",
    ),
    "lactated-ringers, commas": (
        "lactated-ringers",
        "Zusammensetzung: Sodium (Na⁺) 130,0 mmol/l; Potassium (K⁺) 4,0 mmol/l; "
        "Calcium (Ca²⁺) 1,35 mmol/l; Chloride (Cl⁻) 109,0 mmol/l; Lactate 28,0 "
        "mmol/l; pH 6,0 – 7,5; Osmolarity 273 mOsm/l",
    ),
    "sodium-chloride-0.9, thousands": (
        "sodium-chloride-0.9",
        "1.000 ml contains: sodium chloride 9,0 g. 1 000 ml contains: sodium 154 "
        "mmol, chloride 154 mmol. pH 4,5…7,0. Osmolarity 308 mosmol/l",
    ),
    "lactated-ringers, two units": (
        "lactated-ringers",
        "Sodium 130 mmol/L (130 mEq/L)\nPotassium 4 mmol/L (4 mEq/L)\nCalcium 1.35 "
        "mmol/L (2.7 mEq/L)\nChloride 109 mmol/L (109 mEq/L)\nLactate 28 mmol/L (28 "
        "mEq/L)\nStore below 25 °C; 500 mL bag; water for injections to 1000 mL",
    ),
    "albumin-5, ranges": (
        "albumin-5",
        "Human albumin 50 g/L; sodium between 130 and 160 mmol/L; potassium not more "
        "than 2 mmol/L; pH 6.4 to 7.4",
    ),
    "sodium-chloride-0.45, last line": (
        "sodium-chloride-0.45",
        "Sodium 38.5 mmol\nChloride 38.5 mmol\nper 500 mL",
    ),
    "sodium-chloride-0.9, per cent": (
        "sodium-chloride-0.9",
        "Sodium chloride 0.9% w/v (9 g/L), corresponding to sodium 154 mmol·L⁻¹, "
        "chloride 154 mmol·L⁻¹",
    ),
    "magnesium-sulfate-50, per mL": (
        "magnesium-sulfate-50",
        "Each mL contains magnesium sulfate heptahydrate 500 mg (4.06 mEq of magnesium)",
    ),
}

# What is altered: in which label, which words, into which, and every difference that must be told.
ALTERED: dict[str, tuple[str, str, str, list[str]]] = {
    "potassium left at four": (
        "compound-sodium-lactate",
        "K+ 5",
        "K+ 4",
        ["potassium"],
    ),
    "chloride one off": (
        "lactated-ringers",
        "Chloride 109",
        "Chloride 110",
        ["chloride"],
    ),
    "a salt nearly doubled": (
        "lactated-ringers",
        "Sodium Chloride 0.6 g",
        "Sodium Chloride 0.9 g",
        ["sodium, from the salts", "chloride, from the salts"],
    ),
    "calcium in place of magnesium": (
        "multiple-electrolytes-type-1-ph-7.4",
        "Mg²⁺ 1.5",
        "Ca²⁺ 1.5",
        ["calcium", "magnesium"],
    ),
    "mEq printed as mmol": (
        "acetate-malate-balanced",
        "(Ca2+) 2.5",
        "(Ca2+) 5",
        ["calcium"],
    ),
    "osmolarity": (
        "acetate-malate-balanced",
        "309",
        "290",
        ["osmolarity"],
    ),
    "an end of the pH range": (
        "dextrose-5",
        "3.2 to",
        "3.5 to",
        ["pH, low end"],
    ),
    "glucose without its water": (
        "dextrose-5",
        "monohydrate 50",
        "anhydrous 50",
        ["glucose"],
    ),
    "half a litre read as a litre": (
        "sodium-chloride-0.45",
        "per 500 mL",
        "per 1000 mL",
        ["sodium", "chloride"],
    ),
    "bicarbonate a tenth": (
        "sodium-bicarbonate-8.4",
        "bicarbonate 1 mmol in",
        "bicarbonate 0.1 mmol in",
        ["bicarbonate"],
    ),
    "two at once": (
        "multiple-electrolytes-type-1-ph-7.4",
        "acetate 27, gluconate 23",
        "acetate 23, gluconate 27",
        ["acetate", "gluconate"],
    ),
    "a decimal comma slipped": (
        "lactated-ringers, commas",
        "1,35 mmol",
        "13,5 mmol",
        ["calcium"],
    ),
    "a litre's salts in half of it": (
        "sodium-chloride-0.9, thousands",
        "1.000 ml contains: sodium",
        "500 ml contains: sodium",
        ["sodium, from the salts", "chloride, from the salts"],
    ),
    "one of two units": (
        "lactated-ringers, two units",
        "(2.7 mEq/L)",
        "(1.35 mEq/L)",
        ["calcium"],
    ),
    "sodium outside the range": (
        "albumin-5, ranges",
        "between 130 and 160",
        "between 100 and 120",
        ["sodium"],
    ),
    "albumin by weight": (
        "albumin-5, ranges",
        "albumin 50",
        "albumin 200",
        ["albumin"],
    ),
    "the last line's volume": (
        "sodium-chloride-0.45, last line",
        "per 500 mL",
        "per 250 mL",
        ["sodium", "chloride"],
    ),
    "strength in per cent and by weight": (
        "sodium-chloride-0.9, per cent",
        "0.9% w/v (9 g/L)",
        "0.45% w/v (4.5 g/L)",
        ["sodium, from the salts", "chloride, from the salts"],
    ),
    "an end of a range with a comma": (
        "lactated-ringers, commas",
        "pH 6,0",
        "pH 5,0",
        ["pH, low end"],
    ),
    "the amount behind of": (
        "magnesium-sulfate-50, per mL",
        "4.06 mEq",
        "2.03 mEq",
        ["magnesium"],
    ),
}
