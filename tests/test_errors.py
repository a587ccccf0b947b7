from lengthwise.errors import DataFileError, InputError, NoSolutionError, UnknownNameError, nearest, unknown


def test_unknown_name_offers_the_nearest_valid_ones():
    error = unknown("head", "tricep_long", ["triceps_long", "biceps_long", "soleus"])
    assert isinstance(error, UnknownNameError)
    assert error.allowed[0] == "triceps_long"
    assert "no head is called 'tricep_long'" in str(error)


def test_unknown_name_without_a_near_one_lists_what_exists():
    assert "known: soleus" in str(unknown("head", "zzzz", ["soleus"]))


def test_exit_codes_follow_the_contract():
    assert (InputError.exit_code, DataFileError.exit_code, NoSolutionError.exit_code) == (2, 3, 4)


def test_data_file_error_keeps_every_fault():
    error = DataFileError(["a.toml: x: 1 (allowed 2)", "a.toml: y: 3 (allowed 4)"])
    assert len(error.faults) == 2 and "y: 3" in str(error)


def test_nearest_is_best_first():
    assert nearest("knee_flex", ["knee_flexion", "hip_flexion"])[0] == "knee_flexion"
