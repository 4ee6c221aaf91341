from __future__ import annotations

import dataclasses

import pytest

from tests.services.invented import ANN, NORTH, cook, started
from tuner.domain import InvalidDocument, NotAllowed, NotFound, PanelMarks, TestCook
from tuner.services import (
    close_session,
    enter_marks,
    log_cook,
    plan_session,
    summarise_benchmark,
    view_development,
    view_session,
)

TASTERS = tuple("KLMN")
ASKED = {**dict.fromkeys(TASTERS, True), "O": False}


def logged(space, view, count=2, **changes):
    made = [
        log_cook(space, ANN, development_id=view.id, cook=cook(scores=None, mass_out_g=160 + i, **changes)).id
        for i in range(count)
    ]
    benchmark = cook(scores=None, purpose="benchmark", serving_age_s=60)
    return made, log_cook(space, ANN, development_id=view.id, cook=benchmark).id


def planned(space, view, cooks, benchmark, **changes):
    fields = {"cook_ids": cooks, "benchmark_id": benchmark, "may_taste": ASKED, "seed": 4, **changes}
    return plan_session(space, ANN, development_id=view.id, **fields)


def marked(space, session, marks, **more):
    """Everybody marks everything; marks(taster, code) -> mark."""
    for sheet in session.sheets:
        for code in sheet.codes:
            given = {name: marks(sheet.taster, code) for name in session.attributes}
            sent = PanelMarks.model_validate({"taster": sheet.taster, "code": code, "marks": given, **more})
            session = enter_marks(space, ANN, session_id=session.id, marks=sent)
    return session


def texts(value) -> str:
    return str(dataclasses.asdict(value))


def test_a_session_is_blind_until_it_is_closed_and_then_scores_the_cooks(space):
    view = started(space)
    cooks, benchmark = logged(space, view)
    session = planned(space, view, cooks, benchmark, client_id="s")
    assert planned(space, view, cooks, benchmark, client_id="s") == session
    assert session.allergens == ("milk",)
    assert any("contain" in text for text in session.cautions)
    assert {sheet.taster for sheet in session.sheets} == set(TASTERS)
    assert session.not_tasting == ("O",)
    open_text = texts(session)
    assert not any(hidden in open_text for hidden in (*cooks, benchmark, "duplicate", "cook 1", "'benchmark'"))
    done = marked(space, session, lambda taster, code: 3.5 if taster == "K" else 3.0, serving_age_s=60)
    assert done.result is None
    assert not any(hidden in texts(done) for hidden in (*cooks, benchmark))
    closed = close_session(space, ANN, session_id=session.id)
    assert close_session(space, ANN, session_id=session.id).result == closed.result
    assert sorted(one.kind for one in closed.result.identities) == ["benchmark", "cook", "cook", "duplicate"]
    [browning] = [one for one in closed.result.attributes if one.attribute == "browning"]
    assert all(mean.mean == pytest.approx(3.125) for mean in browning.means)
    assert browning.taster_effects["K"] == pytest.approx(0.375)
    assert {one.label for one in closed.result.differences} == {"cook 1", "cook 2", "cook 1 again"}
    assert all(one.difference == pytest.approx(0) for one in closed.result.differences)
    assert closed.result.duplicate_sd["browning"] == 0
    assert closed.result.serving_age_s["benchmark"] == 60
    after = [row for row in view_development(space, ANN, development_id=view.id).cooks if not row.superseded]
    assert [len(row.cook.scores) for row in after] == [4, 4, 4]
    assert {score.taster for score in after[0].cook.scores} == set(TASTERS)
    assert after[0].cook.panel_mean("texture") == pytest.approx(3.125)


def test_only_cooks_that_are_safe_to_taste_are_served(space):
    view = started(space)
    cooks, benchmark = logged(space, view)
    low = log_cook(space, ANN, development_id=view.id, cook=cook(core_temperature_c=[75.9, 77, 79], scores=None)).id
    unknown = log_cook(space, ANN, development_id=view.id, cook=cook(thermometer_checked_at=None, scores=None)).id
    for bad in (low, unknown):
        with pytest.raises(NotAllowed, match="Nobody is invited"):
            planned(space, view, [*cooks, bad], benchmark)
    with pytest.raises(InvalidDocument, match="not a benchmark"):
        planned(space, view, cooks[:1], cooks[1])
    with pytest.raises(NotFound):
        planned(space, view, ["nothing"], benchmark)


def test_without_known_allergens_nobody_is_invited(space):
    view = started(space, allergens=None)
    cooks, benchmark = logged(space, view)
    with pytest.raises(NotAllowed, match="Allergens are unknown"):
        planned(space, view, cooks, benchmark)


def test_health_is_never_more_than_yes_or_no(space):
    view = started(space)
    cooks, benchmark = logged(space, view)
    session = planned(space, view, cooks, benchmark)
    with space.store.read(None) as reading:
        kept = reading.records.one(session.id).content["may_taste"]
    assert kept == {**dict.fromkeys(TASTERS, True), "O": False}
    sent = PanelMarks.model_validate({"taster": "O", "code": session.sheets[0].codes[0], "marks": {"browning": 3}})
    with pytest.raises(NotAllowed, match="does not taste today"):
        enter_marks(space, ANN, session_id=session.id, marks=sent)


def test_at_most_eight_hot_samples(space):
    view = started(space)
    cooks, benchmark = logged(space, view, count=7)
    with pytest.raises(InvalidDocument, match="more than 8"):
        planned(space, view, cooks, benchmark)
    assert len(planned(space, view, cooks[:6], benchmark).sheets[0].codes) == 8


def test_marks_are_entered_once_corrected_before_closing_and_never_after(space):
    view = started(space)
    cooks, benchmark = logged(space, view)
    session = planned(space, view, cooks, benchmark)
    sheet = session.sheets[0]

    def sent(mark, code=sheet.codes[0], taster=sheet.taster, name="texture"):
        return PanelMarks.model_validate({"taster": taster, "code": code, "marks": {name: mark}})

    with pytest.raises(NotAllowed, match="Nothing has been marked"):
        close_session(space, ANN, session_id=session.id)
    first = enter_marks(space, ANN, session_id=session.id, marks=sent(2.0), client_id="tap")
    assert enter_marks(space, ANN, session_id=session.id, marks=sent(2.0), client_id="tap") == first
    enter_marks(space, ANN, session_id=session.id, marks=sent(2.5))
    for wrong, error in (
        (sent(3, code="999"), NotFound),
        (sent(3, taster="Z"), NotFound),
        (sent(3, name="crispness"), InvalidDocument),
    ):
        with pytest.raises(error):
            enter_marks(space, ANN, session_id=session.id, marks=wrong)
    closed = close_session(space, ANN, session_id=session.id)
    [texture] = closed.result.attributes
    assert [mean.plain_mean for mean in texture.means] == [2.5]
    assert any("Not all samples" in remark for remark in closed.result.remarks)
    with pytest.raises(NotAllowed, match="closed"):
        enter_marks(space, ANN, session_id=session.id, marks=sent(3.0))


def test_unsteady_duplicates_splits_and_a_benchmark_that_moved_are_told(space):
    view = started(space)
    cooks, benchmark = logged(space, view)

    def run(marks):
        session = planned(space, view, cooks, benchmark, attributes=("texture",))
        with space.store.read(None) as reading:
            kinds = {one["code"]: one["kind"] for one in reading.records.one(session.id).content["session"]["samples"]}
        marked(space, session, lambda taster, code: marks(taster, kinds[code]))
        return close_session(space, ANN, session_id=session.id).result

    steady = run(lambda taster, kind: 3.0 if kind == "benchmark" else 3.5 - 0.5 * (taster == "K"))
    assert not steady.drifts
    loose = run(lambda taster, kind: {"benchmark": 4.0, "cook": 2.0 if taster in "KL" else 4.0, "duplicate": 3.0}[kind])
    words = " ".join(loose.remarks)
    assert loose.duplicate_sd["texture"] == pytest.approx(0.7071, abs=1e-4)
    for part in ("blind duplicates differ", "camps", "hidden benchmark moved"):
        assert part in words


def test_liking_gives_penalties_and_stays_out_of_the_cooks_scores(space):
    view = started(space)
    cooks, benchmark = logged(space, view)
    session = planned(space, view, cooks, benchmark, attributes=("texture", "liking"))
    for sheet in session.sheets:
        for code in sheet.codes:
            low = sheet.taster == "K"
            marks = {"texture": 2 if low else 3, "liking": 4 if low else 7}
            enter_marks(
                space,
                ANN,
                session_id=session.id,
                marks=PanelMarks.model_validate({"taster": sheet.taster, "code": code, "marks": marks}),
            )
    result = close_session(space, ANN, session_id=session.id).result
    assert (result.penalties["texture"].too_low.drop, result.penalties["texture"].too_low.act) == (3.0, True)
    rows = [row.cook for row in view_development(space, ANN, development_id=view.id).cooks if not row.superseded]
    assert all(score.other is None for row in rows for score in row.scores)


def test_a_cook_that_is_no_longer_safe_keeps_the_session_from_closing(space):
    from tests.services.invented import QUINN, brief
    from tuner.services import edit_brief

    view = started(space)
    cooks, benchmark = logged(space, view)
    session = marked(space, planned(space, view, cooks, benchmark), lambda taster, code: 3.0)
    limit = {"core_temperature_c": 80, "rest_s": 120, "covered": True, "rule": "own", "approved_by": "Quinn"}
    edit_brief(space, QUINN, development_id=view.id, brief=brief(critical_limit=limit))
    with pytest.raises(NotAllowed):
        close_session(space, ANN, session_id=session.id)
    assert view_session(space, ANN, session_id=session.id).result is None


def test_sessions_of_others_are_not_seen(space):
    view = started(space, customer="Vale")
    cooks, benchmark = logged(space, view)
    session = planned(space, view, cooks, benchmark)
    with pytest.raises(NotFound):
        view_session(space, NORTH, session_id=session.id)
    with pytest.raises(NotFound):
        view_session(space, ANN, session_id="nothing")


def test_the_benchmark_is_summed_up_like_any_cook(space):
    view = started(space)
    logged(space, view)
    found = summarise_benchmark(space, ANN, development_id=view.id)
    assert (found.cooks, found.serving_age_s) == (1, (60, 60))
    assert isinstance(cook(), TestCook)
    assert "3 cooks" in found.remarks[0]
