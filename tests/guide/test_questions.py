"""The guide's chapter on questions and the program know the same questions."""

from __future__ import annotations

import re

from logbook.reading.question_forms import FORMS
from tests.guide.test_guide import chapters


def test_the_guide_lists_every_question_and_no_other() -> None:
    """Each form stands in the guide with what its answer tells, word by word."""
    listed = re.findall(r"^- `([^`]+)`: (.+)$", chapters()["86-questions.md"], re.MULTILINE)
    assert sorted(listed) == sorted((form.example, form.says) for form in FORMS)
