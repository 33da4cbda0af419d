#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The verbs that answer: state, forecast, growth, plan, sex, clock, air, check."""

import math
import os
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import Journal, collect, equal, keys, main, near  # noqa: E402


def nymph(*pairs, today="2026-06-01"):
    """A nymph whose last moult was found on 10 May, seen every other day since."""
    j = Journal(today)
    j.ok("add", "place", "name=Shelf A", "code=A", "day_c=25", "night_c=25", "light_h=12")
    j.animal("species=hierodula", "place=A", "hatched=2026-03-01", *pairs)
    for day in ("2026-03-14", "2026-03-26", "2026-04-10", "2026-04-25", "2026-05-12"):
        j.record("1", "moulted", "outcome=good", "seen=yes", "--day", day)
    return j


def subjects(plan, kind, subject="1", where="tasks"):
    return [t for t in plan[where] if t["kind"] == kind and t["subject"] == subject]


def feed_due(j, **options):
    """The first day on which food is planned, None when there is none."""
    tasks = subjects(j.ok("plan", **options), "feed")
    return min(t["due"] for t in tasks) if tasks else None


def middle(j, **options):
    return j.ok("forecast", "1", **options)["p50"]


def rules(items):
    return {r["rule"] for i in items for r in i["reasons"]}


# ---- state ----

def test_state_has_every_key():
    state = nymph().ok("state", "1")
    keys(state, "subject", "species", "moults", "stage", "adult", "alive", "sex", "last_offered",
         "last_taken", "refusals_since_taken", "last_moult", "last_look", "belly", "place", "hold",
         "conflicts")
    keys(state["moults"], "value", "sd", "basis", "p")
    keys(state["sex"], "male", "female", "verdict", "provisional", "evidence")
    equal(state["subject"], "1")
    equal(state["moults"]["value"], 5)
    equal(state["moults"]["basis"], "counted")
    near(sum(state["moults"]["p"].values()), 1, 1e-6)
    equal(state["place"], "A")
    equal(state["last_moult"], {"earliest": "2026-05-12", "latest": "2026-05-12"})
    equal(state["last_look"], "2026-05-12")
    equal(state["conflicts"], [])
    equal(state["hold"], None)


def test_state_of_meals():
    j = nymph()
    j.record("1", "fed", "prey=moth", "outcome=taken", "--day", "2026-05-20")
    j.record("1", "fed", "prey=moth", "outcome=refused", "--day", "2026-05-24")
    j.record("1", "fed", "prey=moth", "outcome=refused", "--day", "2026-05-26")
    state = j.ok("state", "1")
    equal(state["last_taken"], "2026-05-20")
    equal(state["last_offered"], "2026-05-26")
    equal(state["refusals_since_taken"], 2)
    equal(state["last_look"], "2026-05-26")


def test_state_with_a_window():
    j = nymph()
    j.record("1", "looked", "--day", "2026-05-25")
    j.record("1", "moulted", "outcome=good", "--day", "2026-05-30")
    equal(j.ok("state", "1")["last_moult"], {"earliest": "2026-05-26", "latest": "2026-05-30"})


def test_state_of_a_place_and_text():
    j = nymph()
    equal(j.ok("state", "A")["subject"], "A")
    text = j.ok("state", "1", as_json=False)
    assert "species: Hierodula membranacea" in text and "{" not in text
    j.no(1, "state", "14")


# ---- forecast ----

def test_forecast_has_every_key():
    f = nymph().ok("forecast", "1")
    keys(f, "p10", "p50", "p90", "days", "within3", "within7", "within14", "not_normal", "beyond",
         "last_look", "reasons", "adult")
    equal(sorted(f["days"]), ["p05", "p10", "p25", "p50", "p75", "p90", "p95"])
    days = [f["days"][k] for k in sorted(f["days"])]
    equal(days, sorted(days))
    assert f["within3"] <= f["within7"] <= f["within14"] <= 1 - f["not_normal"] + 1e-9
    keys(f["adult"], "p10", "p50", "p90", "moults_left")
    near(sum(f["adult"]["moults_left"].values()), 1, .01)
    assert f["reasons"]
    for reason in f["reasons"]:
        keys(reason, "rule", "entries", "value", "unit", "shift_days", "text")
        assert reason["text"]


def test_only_a_moult_moves_the_forecast():
    j = nymph()
    before = j.ok("forecast", "1")
    j.record("1", "misted")
    j.record("1", "fed", "prey=hydei", "n=10")
    j.record("A", "cleaned")
    j.record("1", "note", "text=hangs in the corner")
    equal(j.ok("forecast", "1"), before)
    j.record("1", "moulted", "outcome=good", "--day", "2026-05-30", "--earliest", "2026-05-30")
    assert middle(j) > before["p50"], (middle(j), before["p50"])
    j.ok("undo")
    equal(j.ok("forecast", "1"), before)


def test_no_forecast_says_why():
    j = nymph()
    j.record("1", "stage", "seen=adult")
    f = j.ok("forecast", "1")
    equal(f["why"], "adult")
    for key in ("p10", "p50", "p90", "days", "within7", "not_normal", "reasons", "adult"):
        equal(f[key], None)
    assert f["text"]
    j.record("1", "died")
    equal(j.ok("forecast", "1")["why"], "dead")
    equal(j.ok("forecast", "A")["p50"], None)


def test_a_colder_place_takes_longer():
    j = nymph()
    before = middle(j)
    j.record("A", "set", "key=day_c", "value=21")
    j.record("A", "set", "key=night_c", "value=19")
    assert middle(j) > before


# ---- growth ----

def test_growth():
    j = nymph()
    g = j.ok("growth", "1", "--what", "body")
    keys(g, "p10", "p50", "p90", "measured")
    assert g["p10"] < g["p50"] < g["p90"]
    equal(g["measured"], 0)
    j.record("1", "measured", "what=body", "mm=30", "--day", "2026-05-20")
    measured = j.ok("growth", "1", "--what", "body")
    equal(measured["measured"], 1)
    assert measured["p90"] - measured["p10"] < g["p90"] - g["p10"]
    assert j.ok("growth", "1", "--what", "body", "--moults", "7")["p50"] > measured["p50"]
    j.no(2, "growth", "1")
    j.no(2, "growth", "1", "--what", "leg")
    j.no(1, "growth", "1", "--what", "head", "--moults", "1.5")
    j.no(1, "growth", "A", "--what", "head")


# ---- plan ----

def test_plan_has_every_key():
    j = nymph()
    plan = j.ok("plan")
    keys(plan, "today", "tasks", "held", "missed")
    equal(plan["today"], "2026-06-01")
    assert plan["tasks"]
    for task in plan["tasks"]:
        keys(task, "id", "subject", "kind", "reach", "earliest", "due", "latest", "weight",
             "reasons")
        assert task["reasons"], task["id"]
        assert task["earliest"] <= task["due"] <= task["latest"]
        for reason in task["reasons"]:
            keys(reason, "rule", "entries", "value", "unit", "text")
        if task["kind"] == "feed":
            for prey in task["prey"]:
                keys(prey, "name", "n", "mm")
    ids = [t["id"] for t in plan["tasks"]]
    equal(len(ids), len(set(ids)))


def test_two_evenings_without_entries_are_one_line_a_shelf():
    j = nymph()
    j.ok("add", "place", "name=Other", "code=B")
    for place in ("A", "A", "B", "B"):
        j.animal("species=hierodula", f"place={place}", "hatched=2026-04-01")
    for number in ("1", "2", "3", "4", "5"):
        j.record(number, "looked")
        j.record(number, "fed", "prey=hydei", "outcome=taken", "--day", "2026-05-30")
    later = "2026-06-05"
    plan = j.ok("plan", "--to", later, today=later)
    missed = [task for task in plan["tasks"] if task["missed"]]
    assert len(missed) > 5, plan["tasks"]
    for task in missed:
        assert task["due"] < later, task
    for task in plan["tasks"]:
        assert task["missed"] or task["due"] == later or task["kind"] == "take_out", task
    equal([line["place"] for line in plan["missed"]], ["B", "A"])  # Other, Shelf A: by name
    equal(sum(line["n"] for line in plan["missed"]), len(missed))
    for task in missed:
        assert any(task["subject"] in line["subjects"].get(task["kind"], []) for line in plan["missed"]), task
    text = j.ok("plan", as_json=False, today=later).split("\nHeld back")[0].splitlines()
    left = [line for line in text if "Left from earlier evenings: " in line]
    equal(len(left), 2)
    # not seen for four days: they stand first, and in the same line
    assert text[1].lstrip().startswith("Other: Not seen for up to 4 days: ") and text[1] in left, text[1]
    equal(sorted(number for line in plan["missed"] for number in line["unseen"]), ["1", "2", "3", "4", "5"])
    equal(len(text), 1 + len(plan["tasks"]) - len(missed) + len(left))


def test_plan_of_a_span_and_a_place():
    j = nymph()
    j.ok("add", "place", "name=Other", "code=B")
    j.animal("species=tenodera", "place=B", "hatched=2026-05-01")
    assert {t["subject"] for t in j.ok("plan", "--place", "B")["tasks"]} <= {"2", "B"}
    day = j.ok("plan", "--from", "2026-06-03", "--to", "2026-06-03")
    for task in day["tasks"]:
        assert task["earliest"] <= "2026-06-03"
    j.no(1, "plan", "--from", "2026-06-03", "--to", "2026-06-02")
    j.no(1, "plan", "--place", "nowhere")
    j.no(2, "plan", "--from", "soon")


def test_feeding_moves_the_next_feed():
    j = nymph()
    before = feed_due(j)
    j.record("1", "fed", "prey=house fly", "n=2", "outcome=taken")
    after = feed_due(j)
    assert before <= "2026-06-01" < after, (before, after)


def test_pumping_holds_food_back_with_the_reason():
    j = nymph()
    j.record("1", "sign", "sign=pumping")
    plan = j.ok("plan")
    equal(subjects(plan, "feed"), [])
    held = subjects(plan, "feed", where="held")
    assert "hold.pumping" in rules(held), held
    hold = j.ok("state", "1")["hold"]
    keys(hold, "reach", "since", "until", "food_until", "touch_until", "ask_again", "reasons")
    equal(hold["until"], None)


def test_hanging_holds_inside_the_range_only():
    j = nymph()
    f = j.ok("forecast", "1")
    j.record("1", "sign", "sign=hanging", "--day", "2026-05-13")
    equal(j.ok("state", "1", today="2026-05-13")["hold"] is None
          or "hold.hanging_in_range" not in rules([j.ok("state", "1", today="2026-05-13")["hold"]]),
          True)
    inside = f["p50"]
    j.record("1", "sign", "sign=hanging", "--day", inside, today=inside)
    hold = j.ok("state", "1", today=inside)["hold"]
    assert hold is not None and "hold.hanging_in_range" in rules([hold]), hold


def test_two_refusals_hold_food_and_a_thin_belly_releases_it():
    j = nymph()
    inside = j.ok("forecast", "1")["p50"]
    j.today = inside
    for prey in ("moth", "house fly"):
        j.record("1", "fed", "prey=" + prey, "outcome=refused")
    j.record("1", "belly", "score=4")
    plan = j.ok("plan")
    assert "hold.two_refusals" in rules(subjects(plan, "feed", where="held")), plan["held"]
    j.record("1", "belly", "score=2")
    plan = j.ok("plan")
    feeds = subjects(plan, "feed")
    assert feeds and min(t["due"] for t in feeds) <= inside, plan


def test_a_task_put_off():
    j = nymph()
    j.record("1", "put_off", "rule=feed", "until=2026-06-04")
    assert feed_due(j) >= "2026-06-04"


# ---- sex ----

def sex(*pairs):
    return Journal(make=False).ok("sex", *pairs, journal=False)


def test_sex_alone():
    answer = sex("moults=5", "plates=8", "small_plate=not")
    keys(answer, "male", "female", "verdict", "provisional", "ask", "evidence")
    near(answer["male"] + answer["female"], 1, 1e-3)
    # Odds of the table: 8 plates .78 : .02, capped at 32 to 1 for one picture.
    near(answer["male"], 32 / 33, .002)
    equal(answer["verdict"], "likely_male")
    for piece in answer["evidence"]:
        keys(piece, "kind", "log_odds", "counted", "text")


def test_too_early_says_nothing():
    answer = sex("moults=2", "plates=6", "small_plate=not")
    equal(answer["male"], .5)
    equal(answer["verdict"], "undecided")


def test_unknown_small_plate_is_asked():
    answer = sex("moults=5", "plates=8")
    near(answer["male"], .88, .005)
    assert "small_plate" in answer["ask"]
    equal(answer["verdict"], "undecided")


def test_a_second_kind_makes_it_firm():
    answer = sex("species=hierodula", "moults=8", "adult=yes", "plates=6", "small_plate=not",
                 "last_plate=boat", "wing_ratio=.8", "wing_sd=.03", "claim=female")
    assert answer["female"] > .99
    equal(answer["verdict"], "firm_female")
    equal(answer["provisional"], False)


def test_unconfirmed_likelihood_counts_as_itself():
    clear = sex("moults=5", "small_plate=not", "plates_likelihood=8:1")
    vague = sex("moults=5", "small_plate=not", "plates_likelihood=6:.5,8:.5")
    assert clear["male"] > .9
    assert .3 < vague["male"] < .7


def test_a_cue_of_another_kind_makes_nothing_firm():
    pairs = ["moults=5", "plates=6", "small_plate=not", "last_plate=boat"]
    plain = sex("species=hierodula", *pairs)
    with_cue = sex("species=hierodula", *pairs, "cue=crown:female")
    equal((with_cue["female"], with_cue["verdict"]), (plain["female"], "likely_female"))
    cue = next(e for e in with_cue["evidence"] if e["kind"] == "cue")
    equal(cue["counted"], 0)
    assert "not known as a sign of the sex in this kind" in cue["text"], cue["text"]
    equal(sex("species=phyllocrania", *pairs, "cue=crown:female")["verdict"], "firm_female")


def test_sexed_without_saying_how_counts_as_nothing():
    j = Journal()
    j.animal("species=hierodula", "hatched=2026-02-01", "moults=5")
    j.record("1", "sexed", "sex=female")
    said = j.ok("state", "1")["sex"]
    equal((said["female"], [e["kind"] for e in said["evidence"]]), (.5, ["unsaid"]))
    assert "without saying how" in said["evidence"][0]["text"]


def test_sex_refuses():
    j = Journal(make=False)
    for pairs in (["plates=six"], ["plates=6", "plates=7"], ["teeth=2"], ["cue=crown"],
                  ["last_plate=wide"], ["cue=smile:male"], ["species=griffin"], ["plates_likelihood=6"],
                  ["plates_likelihood=3:1"], ["moults=2.5"], ["adult=maybe"], ["plates"],
                  ["species=hierodula", "plates=6", "convention=appendages"]):
        j.no(1, "sex", *pairs, journal=False)
    j.no(2, "sex", journal=False)


# ---- models alone ----

def test_clock():
    j = Journal(make=False)

    def clock(*words):
        return j.ok("clock", *words, journal=False)["development_days"]

    near(clock("--species", "hierodula", "--min", 25, "--max", 25), 1, 1e-6)
    near(clock("--species", "hierodula", "--min", 25, "--max", 25, "--days", 7.5), 7.5, 1e-6)
    assert clock("--species", "hierodula", "--min", 20, "--max", 24) < 1
    equal(clock("--species", "hierodula", "--min", 2, "--max", 5), 0)
    j.no(1, "clock", "--species", "hierodula", "--min", 25, "--max", 20, journal=False)
    j.no(1, "clock", "--species", "griffin", "--min", 20, "--max", 25, journal=False)
    j.no(2, "clock", "--species", "hierodula", journal=False)
    j.no(2, "clock", "--species", "hierodula", "--min", "warm", "--max", 25, journal=False)


def test_air():
    j = Journal(make=False)

    def air(*words):
        return j.ok("air", *words, journal=False)

    answer = air("--t", 25, "--rh", 50)
    keys(answer, "es", "e", "vpd", "dew_point", "absolute", "rh_night", "condenses")
    # Lide (CRC Handbook): 3.1690 kPa over water at 25 °C; the Magnus form is .31 % off at most.
    near(answer["es"], 31.690, .1)
    near(answer["e"] + answer["vpd"], answer["es"], 1e-3)
    # Published dew point table: 25 °C, 50 % gives 13.8 °C.
    near(answer["dew_point"], 13.8, .25)
    # 216.679 e / T, the constant in g K / J.
    near(answer["absolute"], 216.679 * answer["e"] / 298.15, .05)
    equal((answer["rh_night"], answer["condenses"]), (None, None))
    equal(air("--t", 25, "--rh", 50, "--night", 10)["rh_night"], 100)
    equal(air("--t", 25, "--rh", 50, "--wall", 12)["condenses"], True)
    equal(air("--t", 25, "--rh", 50, "--wall", 15)["condenses"], False)
    equal(air("--t", "-5", "--rh", 50)["es"] < 6.2, True)
    equal(air("--t", 25, "--rh", 0)["dew_point"], None)
    j.no(1, "air", "--t", 25, "--rh", 101, journal=False)
    j.no(1, "air", "--t", 70, "--rh", 50, journal=False)
    j.no(2, "air", "--t", 25, journal=False)


# ---- form ----

def test_numbers_and_text_do_not_follow_the_locale():
    """A comma locale or another language changes no JSON."""
    j = nymph()
    plain = j.run("forecast", "1").out
    env = dict(os.environ, LC_ALL="de_DE.UTF-8", LANGUAGE="de")
    equal(j.run("forecast", "1", env=env).out, plain)
    equal(j.run("plan", env=env).out, j.run("plan").out)
    equal(j.run("air", "--t", "25.5", "--rh", "50", env=env).json["es"] > 30, True)


def test_what_is_for_people_is_said_in_their_language():
    """Answers without --json; what is for programs stays as it is."""
    j = nymph()
    env = dict(os.environ, LC_ALL="C.UTF-8", LANGUAGE="de")
    plan = j.run("plan", as_json=False, env=env).out
    assert plan.startswith("Heute, ") and "Füttern" in plan, plan
    j.record("1", "misted")
    history = j.run("history", "1", as_json=False, env=env).out
    assert "gesprüht" in history, history
    undone = j.run("undo", as_json=False, env=env).out
    assert undone.startswith("Zurückgenommen: "), undone
    equal(j.run("history", "1", env=env).out, j.run("history", "1").out)


def test_json_is_one_object():
    j = nymph()
    j.record("1", "note", 'text=a "quoted" \\ line, ü')
    for words in (["state", "1"], ["forecast", "1"], ["plan"], ["history", "1"], ["check"]):
        assert isinstance(j.run(*words).json, dict)
    texts = [e["values"].get("text") for e in j.ok("history", "1")["entries"]]
    assert 'a "quoted" \\ line, ü' in texts
    assert not any(math.isnan(v) for v in j.ok("forecast", "1")["days"].values())


def test_a_moulted_subadult_is_probably_adult():
    j = Journal()
    j.animal("species=hierodula", "hatched=2025-11-01")
    j.record("1", "stage", "seen=subadult", "--day", "2026-05-01")
    j.record("1", "moulted", "--day", "2026-05-28")
    state, f = j.ok("state", "1"), j.ok("forecast", "1")
    equal((state["stage"], state["adult"], state["probably_adult"]), ("probably adult", False, True))
    assert f["not_normal"] >= .8 and f["doubtful"], f
    equal(f["text"], "probably adult: are the wings full?")
    j.record("1", "stage", "seen=adult")
    state = j.ok("state", "1")
    equal((state["adult"], state["probably_adult"]), (True, False))


def test_a_wait_past_all_days_names_none():
    j = Journal()
    j.animal("species=hierodula", "hatched=2026-01-01")
    j.record("1", "looked")
    f = j.ok("forecast", "1")
    assert f["not_normal"] > .5 and f["doubtful"], f
    assert not any(c.isdigit() for c in f["text"]), f["text"]


def test_a_range_that_stands_on_little_is_called_a_guess():
    j = Journal()
    j.animal("species=unknown", "hatched=2026-05-25")
    j.animal("species=hierodula", "hatched=2026-05-25")
    f = j.ok("forecast", "1")
    equal(f["rough"], True)
    assert f["text"].endswith(", a rough guess"), f["text"]
    f = j.ok("forecast", "2")
    equal(f["rough"], False)
    assert "guess" not in f["text"], f["text"]


def test_check_tells_conflicts_from_damage():
    j = nymph()
    check = j.ok("check")
    equal((check["clean"], check["conflicts"], check["problems"]), (True, [], []))
    # A moult after an adult one: that was taken back meanwhile, and is brought back.
    j.animal("species=hierodula", "acquired=2025-11-01")
    first = j.record("2", "moulted", "to=adult", "--day", "2026-05-10")
    j.ok("void", first)
    void = next(e["id"] for e in j.ok("history", "2")["entries"] if e["kind"] == "void")
    j.record("2", "moulted", "--day", "2026-05-20")
    j.ok("void", void)
    check = j.ok("check")
    equal((check["clean"], check["problems"]), (True, []))
    equal(len(check["conflicts"]), 1)
    assert check["conflicts"][0].startswith("2: "), check


def test_growth_says_why_not():
    j = Journal()
    j.animal("species=unknown")
    j.animal("species=hierodula", "hatched=2026-05-10")
    equal(j.ok("growth", "1", "--what", "body")["why"], "stage_unknown")
    equal(j.ok("growth", "1", "--what", "head", "--moults", "4")["why"], "not_measured")
    equal(j.ok("growth", "2", "--what", "body")["why"], None)


def test_the_plan_for_people_is_of_today():
    j = nymph()
    text = j.ok("plan", as_json=False)
    assert text.startswith("Today, Mon 1 June\n"), text
    equal(len([line for line in text.split("\n") if line and not line.startswith(" ")
               and line != "Held back"]), 1)
    longer = j.ok("plan", "--to", "2026-06-10", as_json=False)
    assert len(longer) > len(text) and longer.startswith("Today, Mon 1 June\n"), longer


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
