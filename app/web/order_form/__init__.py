"""The order form as it is drawn: fields with what was typed, choices, places for messages."""

from app.web.order_form.fields import (
    Field,
    FormView,
    KnownResults,
    fluid_field,
    form_view,
    label_of,
)
from app.web.order_form.slots import row_counts, slots_of

__all__ = [
    "Field",
    "FormView",
    "KnownResults",
    "fluid_field",
    "form_view",
    "label_of",
    "row_counts",
    "slots_of",
]
