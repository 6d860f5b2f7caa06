"""One content has one text, whoever writes it."""

from datetime import UTC, datetime

import pytest

from app.canonical import canonical, digest, number_text, plain


@pytest.mark.parametrize(
    ("number", "text"),
    # Appendix B of RFC 8785, and figures as bags have them.
    [
        (0.0, "0"), (-0.0, "0"), (5e-324, "5e-324"), (-5e-324, "-5e-324"),
        (1.7976931348623157e308, "1.7976931348623157e+308"),
        (9007199254740992.0, "9007199254740992"),
        (295147905179352830000.0, "295147905179352830000"),
        (9.999999999999997e22, "9.999999999999997e+22"), (1e23, "1e+23"),
        (999999999999999700000.0, "999999999999999700000"), (1e21, "1e+21"),
        (9.999999999999997e-7, "9.999999999999997e-7"), (0.000001, "0.000001"),
        (333333333.33333329, "333333333.3333333"), (333333333.33333325, "333333333.33333325"),
        (5.9, "5.9"), (60.0, "60"), (0.00005, "0.00005"), (-1.8, "-1.8"),
    ],
)  # fmt: skip
def test_a_number_is_written_as_the_standard_has_it(number: float, text: str) -> None:
    assert number_text(number) == text


def test_sixty_is_sixty_with_or_without_its_point() -> None:
    assert canonical({"rate_ml_h": 60.0}) == canonical({"rate_ml_h": 60}) == '{"rate_ml_h":60}'


def test_names_are_sorted_and_signs_kept() -> None:
    value = {"b": [True, None, "µmol/L"], "a": {"é": 'say "so"\n', "Z": 1}}
    assert canonical(value) == '{"a":{"Z":1,"é":"say \\"so\\"\\n"},"b":[true,null,"µmol/L"]}'


def test_names_sort_by_utf_16_as_the_standard_asks() -> None:
    assert canonical({"\ufb33": 1, "\U0001f600": 2}) == '{"\U0001f600":2,"\ufb33":1}'


def test_what_json_cannot_carry_is_refused_unless_made_plain_first() -> None:
    with pytest.raises(TypeError, match="datetime"):
        canonical({"now": datetime(2031, 3, 4, tzinfo=UTC)})
    made = plain({"now": datetime(2031, 3, 4, tzinfo=UTC), "at": (1, 2), "no": float("nan")})
    assert canonical(made) == '{"at":[1,2],"no":"nan","now":"2031-03-04T00:00:00+00:00"}'


def test_a_hash_is_of_all_but_itself() -> None:
    document = {"level": "warning"}
    assert digest({**document, "sha256": "anything"}) == digest(document)
    assert digest({"level": "critical"}) != digest(document)
