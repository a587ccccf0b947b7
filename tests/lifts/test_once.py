"""What follows from a definition is worked out once, and for another definition anew."""

import gc

from lengthwise.lifts.catalogue import built_in
from lengthwise.lifts.once import once


def test_it_is_kept_while_the_definition_lives_and_no_longer():
    asked = []

    @once
    def name_of(lift):
        asked.append(lift.name)
        return lift.name

    lift = built_in().lifts["barbell_curl"]
    other = lift.model_copy(update={"name": "Other curl"})
    assert [name_of(lift), name_of(other), name_of(lift), name_of(other)] == [lift.name, "Other curl"] * 2
    assert asked == [lift.name, "Other curl"]
    del other
    gc.collect()
    again = [lift.model_copy(update={"name": f"Curl {k}"}) for k in range(100)]
    assert [name_of(one) for one in again] == [f"Curl {k}" for k in range(100)]
