"""Every bad input of the check form: the field named, and what is wanted said in words."""

from typing import Any

import pytest

from forms import ADAPTER, ALL, BEAM, DRIVER, DRUM, HUNG, changed, without
from steelyard.desk import JudgedCheck, judge_check
from steelyard.errors import InputRefused

PULLS = 'pulls = "96.1 97.0 96.6 96.8 96.5 N·m"'
TARGET = 'target = "100 N·m"'


def judged(text: str) -> JudgedCheck:
    return judge_check(text.encode())


def refused(form: str | bytes, field: str, *words: str, given: str | None = None) -> InputRefused:
    """The refusal of a form; raises unless it names the field, what stood there and each of the words."""
    with pytest.raises(InputRefused) as caught:
        judge_check(form.encode() if isinstance(form, str) else form)
    trouble = caught.value
    if trouble.field != field:
        raise AssertionError(f"it names {trouble.field}: {trouble.sentence}")
    if given is not None and trouble.given != given:
        raise AssertionError(f"it shows {trouble.given!r} as given: {trouble.sentence}")
    missing = [word for word in words if word not in trouble.sentence]
    if missing:
        raise AssertionError(f"{missing} not in: {trouble.sentence}")
    return trouble


def found(text: str) -> dict[str, dict[str, Any]]:
    """Doubts by code, with the facts of the last of each."""
    return {doubt.code: dict(doubt.facts) for doubt in judged(text).doubts}


@pytest.mark.parametrize("name", ALL)
def test_the_forms_that_are_spoiled_here_are_good_before(name: str) -> None:
    judged(ALL[name])


# The file as a whole


def test_it_refuses_an_empty_file() -> None:
    refused("", "steelyard_check", "first line of the form", "steelyard_check = 1")


@pytest.mark.parametrize(("number", "shown"), [("2", "2"), ('"1"', "1"), ("true", "True"), ("1.0", "1.0")])
def test_it_refuses_another_number_of_the_form(number: str, shown: str) -> None:
    text = changed(ADAPTER, "steelyard_check = 1", f"steelyard_check = {number}")
    refused(text, "steelyard_check", "steelyard_check = 1", given=shown)


def test_it_refuses_more_than_a_megabyte() -> None:
    refused(ADAPTER + "#" * 1_000_000, "the file", "at most 1 MB")


def test_it_takes_a_file_of_just_a_megabyte() -> None:
    content = ADAPTER.encode()
    judge_check(content + b"#" * (1_000_000 - len(content)))


def test_it_refuses_what_is_not_utf8() -> None:
    refused(ADAPTER.encode("latin-1"), "the file", "UTF-8")


def test_it_takes_the_mark_that_some_editors_put_first() -> None:
    judge_check(b"\xef\xbb\xbf" + ADAPTER.encode())


@pytest.mark.parametrize("text", ["wrench: T-01", "a = ", "[tool", "a = 1\na = 2", "a = " + "9" * 5000])
def test_it_refuses_what_is_not_toml(text: str) -> None:
    refused(text, "the file", "TOML", "breaks off with")


@pytest.mark.parametrize("deep", ["a = " + "[" * 100_000 + "]" * 100_000, "[" + "a." * 100_000 + "a]"])
def test_it_refuses_deep_nesting(deep: str) -> None:
    with pytest.raises(InputRefused):
        judge_check(deep.encode())


def test_a_table_nested_in_a_pull_is_refused_by_its_name() -> None:
    text = changed(ADAPTER, PULLS, 'pulls = [{ reading = { a = { b = "96.1 N·m" } } }]')
    refused(text, "point 1.pulls 1.reading", "a text in quotes")


# Fields and kinds


@pytest.mark.parametrize(
    ("after", "field"),
    [
        ("exercise_pulls = 5", "the file"),
        ("[place]", "place"),
        ("[tool]", "tool"),
        ("[limit]", "limit"),
        ("[kit]", "kit"),
        ("[[kit.scale]]", "kit.scale 1"),
        ('name = "M-10"', "kit.mass 1"),
        ("[[point]]", "point 1"),
    ],
)
def test_it_refuses_an_unknown_field_in_every_table(after: str, field: str) -> None:
    text = changed(HUNG, after, f'{after}\namr = "1 m"')
    refused(text, field, "a field of this form", "file-form.md", given="amr")


def test_it_refuses_an_unknown_field_of_a_pull() -> None:
    text = changed(HUNG, 'bucket = "10.15 kg"', 'bucket = "10.15 kg", remark = "slow"')
    refused(text, "point 1.pulls 3", "a field of this form", given="remark")


@pytest.mark.parametrize(
    ("old", "field"),
    [
        ('kind = "click-adjustable"', "tool.kind"),
        ('kind = "hung-weight"', "kit.kind"),
        ('knows = "mass"', "kit.scale 1.knows"),
    ],
)
def test_it_refuses_an_unknown_kind_and_lists_the_known_ones(old: str, field: str) -> None:
    name, known = old.replace('"', "").split(" = ")
    refused(changed(HUNG, old, f'{name} = "spanner"'), field, "one of", known, given="spanner")


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ("[tool]", '[tool]\ndirections = ["left"]', "tool.directions"),
        ("[tool]", '[tool]\ndirections = "cw"', "tool.directions"),
        ("[tool]", "[tool]\ndirections = []", "tool.directions"),
        ("draws = 10000", 'draws = 10000\nrule = "kind"', "rule"),
        ("[limit]", '[limit]\nof = "range"', "limit.of"),
        ("[limit]", '[limit]\nconvention = "din"', "limit.convention"),
        ('mode = "first-peak"', 'mode = "last"', "kit.mode"),
    ],
)
def test_it_refuses_an_unknown_word(old: str, new: str, field: str) -> None:
    refused(changed(ADAPTER, old, new), field, "one of")


@pytest.mark.parametrize(
    ("old", "new", "field", "word"),
    [
        ('number = "T-04"', "number = 4", "tool.number", "a text in quotes"),
        ('number = "T-04"', 'number = " "', "tool.number", "a text in quotes"),
        ('number = "T-04"', r'number = "T\u001b[2J"', "tool.number", "control characters"),
        ('number = "T-04"', f'number = "{"T" * 2001}"', "tool.number", "at most 2000 characters"),
        ("date = 2026-11-20", "date = 2026-11-20T10:00:00", "date", "a date such as"),
        ("date = 2026-11-20", 'date = "20.11.2026"', "date", "a date such as"),
        ("exercise_pulls = 5", "exercise_pulls = -1", "exercise_pulls", "a whole number from 0 to 1000"),
        ("exercise_pulls = 5", "exercise_pulls = true", "exercise_pulls", "a whole number"),
        ("draws = 10000", "draws = 9999", "draws", "a whole number from 10000 to 10000000"),
        ("[tool]", '[tool]\nset_each_time = "yes"', "tool.set_each_time", "true or false"),
        ("[tool]", "[place]\nlatitude = 54.3\n[tool]", "place.latitude", "a number with its unit"),
    ],
)
def test_it_refuses_a_value_of_another_type(old: str, new: str, field: str, word: str) -> None:
    refused(changed(ADAPTER, old, new), field, word)


def test_it_refuses_a_table_where_a_list_of_tables_is_wanted() -> None:
    refused(changed(ADAPTER, "[[point]]", "[point]"), "point", "a list of tables", "[[point]]")


def test_it_refuses_a_text_where_a_table_is_wanted() -> None:
    refused('steelyard_check = 1\ndate = 2026-11-20\ntool = "T-01"', "tool", "a table", "[tool]")


@pytest.mark.parametrize(
    ("start", "field"),
    [
        ("date", "date"),
        ("number", "tool.number"),
        ('kind = "click', "tool.kind"),
        ("lowest", "tool.lowest"),
        ("highest", "tool.highest"),
        ("graduation", "tool.graduation"),
        ("source", "limit.source"),
        ('kind = "transducer', "kit.kind"),
        ("name", "kit.name"),
        ("resolution", "kit.resolution"),
        ("axis", "kit.axis"),
        ("zeroed", "kit.zeroed"),
        ("stated_of_reading", "kit.paper"),
        ("target", "point 1.target"),
    ],
)
def test_it_asks_for_each_field_it_needs(start: str, field: str) -> None:
    refused(without(ADAPTER, start), field, "nothing is given")


def test_it_asks_for_pulls() -> None:
    refused(ADAPTER.partition("[[point]]")[0], "point 20 N·m cw, pulls", "at least two counted pulls")
    refused(HUNG.partition("[[point]]")[0], "point 20 N·m cw, pulls", "what was read at each pull")
    refused(without(ADAPTER, "pulls"), "point 100 N·m cw, pulls", "at least two counted pulls")
    refused(changed(ADAPTER, PULLS, "pulls = []"), "point 1.pulls", "what was read at each pull")


# Quantities


@pytest.mark.parametrize("target", ["100", '"100"', "1e2"])
def test_it_refuses_a_number_without_a_unit(target: str) -> None:
    trouble = refused(
        changed(ADAPTER, TARGET, f"target = {target}"), "point 1.target", "a number with its unit", "100 N·m"
    )
    assert trouble.wanted == "want-unit"


@pytest.mark.parametrize(
    ("new", "field"),
    [
        ('pulls = "96.1 97.0"', "point 1.pulls"),
        ("pulls = 96.1", "point 1.pulls"),
        ("pulls = [96.1, 97.0]", "point 1.pulls 1"),
        ('pulls = ["96.1", "97.0 N·m"]', "point 1.pulls 1.reading"),
    ],
)
def test_it_refuses_a_pull_without_a_unit(new: str, field: str) -> None:
    refused(changed(ADAPTER, PULLS, new), field)


@pytest.mark.parametrize("unit", ["kg", "mm", "MNm", "foo"])
def test_it_refuses_a_unit_of_another_dimension(unit: str) -> None:
    text = changed(ADAPTER, TARGET, f'target = "100 {unit}"')
    refused(text, "point 1.target", "a unit of torque", "N·m", given=unit)


def test_it_asks_back_where_newton_metre_is_typed_as_nanometre() -> None:
    refused(changed(ADAPTER, TARGET, 'target = "100 nm"'), "point 1.target", "nanometre", given="nm")


@pytest.mark.parametrize("word", ["nan", "inf", "-inf", "infinity"])
def test_it_refuses_numbers_that_are_none(word: str) -> None:
    plain = word.lstrip("-")
    refused(
        changed(ADAPTER, TARGET, f'target = "{word} N·m"'),
        "point 1.target",
        "an ordinary number",
        f"not {plain}",
    )
    if word != "infinity":
        bare = changed(ADAPTER, "percent = 4", f"percent = {word}")
        refused(bare, "limit.percent", "an ordinary number", f"not {plain}")


def test_it_refuses_a_number_that_reads_two_ways() -> None:
    refused(changed(ADAPTER, TARGET, 'target = "1,000 N·m"'), "point 1.target", "reads one way")


def test_it_refuses_a_number_beyond_all_reason() -> None:
    refused(changed(ADAPTER, TARGET, 'target = "1e31 N·m"'), "point 1.target", "at most 20 digits")


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('mass = "1.300 kg ± 5 g"', 'mass = "-1.3 kg"', "tool.mass"),
        ('mass = "1.300 kg ± 5 g"', 'mass = { value = "-1.3 kg", U = "5 g", k = 2 }', "tool.mass.value"),
        ('value = "10 kg ± 10 g"', 'value = "-10 kg ± 10 g"', "kit.mass 1.value"),
        ('bucket = "10.15 kg"', 'bucket = "-10.15 kg"', "point 1.pulls 3.bucket"),
    ],
)
def test_it_refuses_a_negative_mass(old: str, new: str, field: str) -> None:
    refused(changed(HUNG, old, new), field, "a mass above zero", "-1")


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('arm = "450 mm ± 1 mm"', 'arm = "0 mm"', "kit.arm"),
        ('grip_mark = "450 mm ± 2 mm"', 'grip_mark = "0 mm"', "tool.grip_mark"),
    ],
)
def test_it_refuses_an_arm_of_zero(old: str, new: str, field: str) -> None:
    refused(changed(HUNG, old, new), field, "a length above zero", given="0 mm")


@pytest.mark.parametrize("percent", ["0", "-4", "101", '"4 %"', "true"])
def test_it_refuses_a_limit_that_is_no_percentage(percent: str) -> None:
    refused(changed(ADAPTER, "percent = 4", f"percent = {percent}"), "limit.percent", "a number")


@pytest.mark.parametrize("missing", ["value", "U", "k"])
def test_a_stated_value_needs_all_three(missing: str) -> None:
    parts = {"value": '"450 mm"', "U": '"1 mm"', "k": "2"}
    stated = ", ".join(f"{name} = {part}" for name, part in parts.items() if name != missing)
    text = changed(HUNG, 'arm = "450 mm ± 1 mm"', f"arm = {{ {stated} }}")
    refused(text, f"kit.arm.{missing}", "nothing is given")


def test_a_stated_value_needs_a_coverage_above_zero() -> None:
    text = changed(HUNG, 'arm = "450 mm ± 1 mm"', 'arm = { value = "450 mm", U = "1 mm", k = 0 }')
    refused(text, "kit.arm.k", "above zero", given="0")


def test_a_stated_droop_may_be_zero_or_upward() -> None:
    for droop in ("0°", "-1°"):
        stated = f'droop = {{ value = "{droop}", U = "0.5°", k = 2 }}'
        judged(changed(HUNG, 'droop = "0° ± 1°"', stated))


# Place


@pytest.mark.parametrize("gravity", ["98.1 m/s²", "9.69 m/s²"])
def test_it_refuses_a_gravity_that_is_nowhere(gravity: str) -> None:
    text = changed(HUNG, 'latitude = "54.3°"', f'gravity = "{gravity}"')
    refused(text, "place.gravity", "a number from 9.7 to 9.9 m/s²")


def test_it_asks_for_the_height_beside_the_latitude() -> None:
    refused(without(HUNG, "height"), "place.height", "nothing is given", "12 m")


def test_it_refuses_a_latitude_beyond_the_pole() -> None:
    refused(changed(HUNG, '"54.3°"', '"91°"'), "latitude", "a number from -90 to 90")


# Tool and limit


def test_it_refuses_a_range_that_does_not_rise() -> None:
    text = changed(ADAPTER, 'highest = "100 N·m"', 'highest = "19 N·m"')
    refused(text, "tool.highest", "a highest torque not below the lowest", "20 N·m")


@pytest.mark.parametrize("target", ["19.9 N·m", "100.1 N·m", "80 lbf·ft"])
def test_it_refuses_a_target_outside_the_range(target: str) -> None:
    text = changed(changed(ADAPTER, TARGET, f'target = "{target}"'), PULLS, 'pulls = "50 50.1 N·m"')
    refused(text, "point 1.target", "within the tool's range", "20 N·m to 100 N·m", given=target)


def test_it_keeps_a_reading_outside_the_range_with_a_finding() -> None:
    text = changed(ADAPTER, "96.1 97.0 96.6", "96.1 104.5 96.6")
    assert found(text)["reading-outside-range"] == {"point": "100 N·m cw", "pulls": "2"}
    assert "reading-outside-range" not in found(ADAPTER)


def test_it_asks_for_the_limit() -> None:
    refused(without(ADAPTER, "percent"), "limit", "limit.percent with limit.source, or limit.published")


@pytest.mark.parametrize(
    ("given", "field"),
    [("small_percent = 6", "limit.small_up_to"), ('small_up_to = "10 N·m"', "limit.small_percent")],
)
def test_another_percentage_for_small_torques_needs_both_parts(given: str, field: str) -> None:
    refused(changed(ADAPTER, "percent = 4", f"percent = 4\n{given}"), field, "nothing is given")


def test_it_refuses_an_unknown_published_limit() -> None:
    text = changed(DRIVER, '"iso-6789-1-2017"', '"iso-6789-1-1999"')
    refused(text, "limit", "one of", "iso-6789-1-2017", given="iso-6789-1-1999")


def test_it_refuses_a_published_limit_that_does_not_cover_the_kind() -> None:
    refused(changed(DRIVER, '"iso-6789-1-2017"', '"asme-style"'), "tool, kind", "covers", "click-adjustable")


@pytest.mark.parametrize("start", ["mass", "balance_point"])
def test_it_asks_for_the_own_weight(start: str) -> None:
    text = without(HUNG, start)
    if start == "mass":
        refused(text, "tool.mass", "1.300 kg")
    else:
        refused(text, "tool", "own weight", "tool.mass with tool.balance_point", "on purpose")


def test_it_takes_an_own_weight_of_nothing_with_a_finding() -> None:
    text = changed(without(HUNG, "mass"), 'balance_point = "220 mm ± 3 mm"', 'own_weight = "0 N·m"')
    assert "own-weight-left-out" in found(text)


def test_it_refuses_a_pivot_beyond_the_grip_mark() -> None:
    text = changed(HUNG, "graduation", 'pivot = "450 mm"\ngraduation')
    refused(text, "tool.pivot", "a pivot nearer to the drive")


# Kit


def test_it_refuses_a_lever_kit_on_a_driver() -> None:
    text = changed(HUNG, 'kind = "click-adjustable"', 'kind = "driver-adjustable"')
    refused(text, "kit.kind", "a transducer or a drum for a driver", given="hung-weight")


def test_it_refuses_a_drum_under_a_wrench() -> None:
    text = changed(DRUM, 'kind = "driver-preset"', 'kind = "click-preset"')
    refused(text, "kit.kind", "a driver for a drum", given="drum")


@pytest.mark.parametrize("droop", ["10.01°", "-10.01°", "9.5° ± 0.6°"])
def test_it_refuses_a_droop_beyond_ten_degrees(droop: str) -> None:
    refused(changed(HUNG, "0° ± 1°", droop), "kit.droop", "within 10 degrees", "level the arm")


def test_it_takes_a_droop_of_just_ten_degrees() -> None:
    judged(changed(HUNG, "0° ± 1°", "9° ± 1°"))


def test_it_asks_for_the_friction_of_a_pulley() -> None:
    refused(changed(HUNG, "[kit]", '[kit]\nlead = "up"'), "kit.pulley_loss", "2 %")


def test_it_refuses_an_unknown_material() -> None:
    refused(changed(HUNG, "cast-iron", "butter"), "load, material", "one of", "cast-iron", given="butter")


def test_it_refuses_a_mass_without_a_half_width() -> None:
    refused(changed(HUNG, "10 kg ± 10 g", "10 kg"), "weight M-10", "its class, a ± known for it")


def test_it_refuses_a_mass_with_a_half_width_and_a_class() -> None:
    refused(changed(HUNG, '"10 kg ± 10 g"', '"10 kg ± 10 g"\nclass = "M1"'), "weight M-10", "one of these")


def test_it_refuses_a_name_that_two_masses_bear() -> None:
    text = changed(HUNG, 'name = "B-100"', 'name = "M-10"')
    refused(text, "kit.mass 2.name", "a name of its own", given="M-10")


def test_it_refuses_a_name_that_two_scales_bear() -> None:
    again = '[[kit.scale]]\nname = "S-2"\nknows = "mass"\nstep = "5 g"\n\n[[kit.scale]]'
    refused(changed(HUNG, "[[kit.scale]]", again), "kit.scale 2.name", "a name of its own", given="S-2")


def test_it_refuses_a_name_that_is_no_scale() -> None:
    text = changed(HUNG, "0.1 kg on S-2", "0.1 kg on S-3")
    refused(text, "point 1.pulls 2.click", "the name of a kit.scale: S-2", given="S-3")


def test_it_refuses_a_load_of_which_nothing_is_known() -> None:
    trouble = refused(
        changed(DRUM, '"9.8 kg ± 5 g"', '"9.8 kg"'), "point 1.pulls 1.bucket", "a load whose ± is known"
    )
    assert trouble.given == "9.8 kg"


def test_it_refuses_to_mix_masses_and_readings_of_force() -> None:
    text = changed(HUNG, 'knows = "mass"', 'knows = "force"')
    refused(text, "loads", "known in one way", given="force, mass")


@pytest.mark.parametrize("click", ["M-10", "9.9 kg ± 1 g"])
def test_it_refuses_a_click_that_is_not_above_the_last_load_without(click: str) -> None:
    text = changed(HUNG, 'no_click = "M-10", click = "M-10 + B-100"', f'no_click = "M-10", click = "{click}"')
    refused(text, "point 1.pulls 1.click", "above the last one without", given=click)


@pytest.mark.parametrize(
    ("pull", "field"),
    [('{ click = "M-10" }', "no_click"), ('{ no_click = "M-10" }', "click"), ("{}", "no_click")],
)
def test_a_load_in_steps_needs_both_ends(pull: str, field: str) -> None:
    text = changed(HUNG, '{ bucket = "10.15 kg" }', pull)
    refused(text, f"point 1.pulls 3.{field}", "click with no_click, or bucket")


def test_it_asks_for_the_load_where_the_tool_shows_a_torque() -> None:
    refused(without(BEAM, "load"), "point 1.load", "the load that hung")


def test_it_refuses_a_beam_wrench_loaded_off_its_handle() -> None:
    refused(changed(BEAM, '"300 mm ± 1 mm"', '"290 mm ± 1 mm"'), "tool.beam_scale", "distance of the scale")


# Paper


def test_it_refuses_a_worked_row_that_contradicts_the_paper() -> None:
    text = changed(DRIVER, 'worked_true = "4.99 N·m"', 'worked_true = "5.01 N·m"')
    refused(text, "kit.paper.worked_true", "true 4.98", "an error or a correction", given="5.01 N·m")


def test_it_refuses_an_error_read_as_a_correction() -> None:
    text = DRIVER.replace("error =", "correction =")
    refused(changed(text, 'states = "error"', 'states = "correction"'), "kit.paper.worked_true", "5.01")


@pytest.mark.parametrize("at", ["0.5 N·m", "0.4 N·m"])
def test_it_refuses_rows_that_do_not_rise(at: str) -> None:
    refused(changed(DRIVER, 'at = "10 N·m"', f'at = "{at}"'), "kit.paper.row", "rows in rising order")


def test_it_refuses_a_paper_without_rows() -> None:
    head, _, rest = DRIVER.partition("[[kit.paper.row]]")
    refused(head + "[[point]]" + rest.partition("[[point]]")[2], "kit.paper.row", "rows in rising order")


def test_it_refuses_an_indication_where_the_paper_says_nothing() -> None:
    text = changed(DRIVER, 'at = "10 N·m"', 'at = "4.95 N·m"')
    text = changed(text, 'worked_shows = "5.00 N·m"', 'worked_shows = "4.00 N·m"')
    text = changed(text, 'worked_true = "4.99 N·m"', 'worked_true = "3.99 N·m"')
    refused(text, "kit.paper", "between 0.5 N·m and 4.95 N·m", "where the paper speaks")


# Points and pulls


def test_it_refuses_the_same_point_twice() -> None:
    again = f'\n[[point]]\ntarget = "10000 cN·m"\n{PULLS}\n'
    refused(ADAPTER + again, "point 2.target", "each target once per direction", given="10000 cN·m cw")


def test_it_refuses_a_direction_the_tool_does_not_have() -> None:
    refused(changed(ADAPTER, TARGET, f'{TARGET}\ndirection = "ccw"'), "point 1.direction", "directions: cw")


def test_it_refuses_a_single_pull() -> None:
    text = changed(ADAPTER, PULLS, 'pulls = "96.1 N·m"')
    refused(text, "point 100 N·m cw, pulls", "at least two counted pulls", given="1")


def test_struck_out_pulls_do_not_count_towards_the_two() -> None:
    pulls = 'pulls = ["96.1 N·m", { reading = "97.0 N·m", struck_out = "slipped" }]'
    refused(changed(ADAPTER, PULLS, pulls), "point 100 N·m cw, pulls", "at least two", given="1")


@pytest.mark.parametrize("odd", ["300.1 N·m", "-96.5 N·m", "0 N·m"])
def test_it_refuses_an_odd_reading(odd: str) -> None:
    text = changed(ADAPTER, PULLS, f'pulls = ["96.1 N·m", "97.0 N·m", "{odd}"]')
    refused(text, "point 100 N·m cw, pull 3", "near the target 100 N·m", "sure = true", given=odd)


@pytest.mark.parametrize("odd", ["300.1 N·m", "-96.5 N·m"])
def test_it_keeps_an_odd_reading_when_the_person_is_sure(odd: str) -> None:
    text = changed(ADAPTER, PULLS, f'pulls = ["96.1 N·m", "97.0 N·m", {{ reading = "{odd}", sure = true }}]')
    check = judged(text)
    assert check.points[0].result.readings.n == 3
    assert [pull.form.pull.typed for pull in check.points[0].ready.pulls][2] == odd
    assert check.verdict == "out"


def test_it_keeps_an_odd_load_when_the_person_is_sure() -> None:
    text = changed(HUNG, '{ bucket = "10.15 kg" }', '{ bucket = "40 kg" }')
    refused(text, "point 50 N·m cw, pull 3", "sure = true", given="40 kg")
    judged(changed(text, 'bucket = "40 kg"', 'bucket = "40 kg", sure = true'))


def test_a_reading_of_exactly_three_times_the_target_is_not_odd() -> None:
    judged(changed(ADAPTER, PULLS, 'pulls = ["96.1 N·m", "97.0 N·m", "300 N·m"]'))


def test_it_refuses_pulls_that_are_backward_on_average_even_when_sure() -> None:
    pulls = '{ reading = "-96.5 N·m", sure = true }'
    text = changed(ADAPTER, PULLS, f"pulls = [{pulls}, {pulls}]")
    refused(text, "point 100 N·m cw, pulls", "on average above zero")


def test_it_refuses_to_count_no_torque_at_all() -> None:
    pulls = 'pulls = ["96.1 N·m", "97.0 N·m", { reading = "0 N·m", sure = true }]'
    refused(changed(ADAPTER, PULLS, pulls), "point 100 N·m cw, pulls", "above zero")


def test_a_struck_out_pull_may_read_nothing() -> None:
    pulls = 'pulls = ["96.1 N·m", "97.0 N·m", { reading = "0 N·m", struck_out = "slipped" }]'
    assert judged(changed(ADAPTER, PULLS, pulls)).points[0].ready.pulls[2].iso_percent is None


def test_it_refuses_more_than_a_thousand_pulls() -> None:
    many = ", ".join(['"96.1 N·m"'] * 1001)
    refused(changed(ADAPTER, PULLS, f"pulls = [{many}]"), "point 1.pulls", "at most 1000", given="1001")


def test_it_refuses_more_than_two_hundred_tables() -> None:
    refused(ADAPTER + "[[extra]]\n" * 201, "extra", "at most 200", given="201")


@pytest.mark.parametrize("means", ["100.9 N·m", "100.9 -1 N·m"])
def test_a_variation_needs_two_means_above_zero(means: str) -> None:
    table = f'\n[[variation]]\nname = "drive"\nmeans = "{means}"\n'
    refused(ADAPTER + table, "variation 1.means", "the means of at least two sets")
