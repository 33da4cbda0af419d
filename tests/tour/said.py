# SPDX-License-Identifier: GPL-3.0-or-later
"""What a card must say, worked out from the command line's JSON alone and in English.

The window's words come from src/words; this is a second way to the same facts, so that neither can drift
alone: number, kind, stage, sex with its chance, the days of the moult range, what is due and since when,
what must be left alone and until when."""

import datetime
import glob
import os
import re

MONTHS = ("January February March April May June July August September October November December").split()
DAYS = "Monday Tuesday Wednesday Thursday Friday Saturday Sunday".split()
SEX = {"undecided": "sex undecided", "likely_male": "likely male", "likely_female": "likely female",
       "firm_male": "male", "firm_female": "female"}


def day(text):
    return datetime.date.fromisoformat(text) if text else None


def short(d):
    return f"{d.day} {MONTHS[d.month - 1][:3]}"


def near(d, today):
    away = (d - today).days
    if abs(away) > 6:
        return short(d)
    return {0: "today", -1: "yesterday", 1: "tomorrow"}.get(away) or DAYS[d.weekday()]


def until(d, today):
    away = (d - today).days
    return DAYS[d.weekday()][:3] if 2 <= away <= 6 else near(d, today)


def day_range(lo, hi):
    if (lo.year, lo.month) == (hi.year, hi.month):
        days = str(lo.day) if lo == hi else f"{lo.day}–{hi.day}"
        return f"{days} {MONTHS[lo.month - 1]}"
    return f"{short(lo)} – {short(hi)}"


def trade_names(profiles):
    """Scientific name → the name that keepers use, from the profiles."""
    names = {}
    for path in glob.glob(os.path.join(profiles, "*.profile")):
        with open(path, encoding="utf-8") as f:
            text = f.read()
        scientific = re.search(r"^scientific\s*=\s*(.+)$", text, re.MULTILINE)
        common = re.search(r"^common\s*=\s*(.+)$", text, re.MULTILINE)
        if scientific and common:
            names[scientific.group(1).strip()] = common.group(1).strip()
    return names


def sex(state):
    told = SEX[state["sex"]["verdict"]]
    if not told.startswith("likely"):
        return told
    chance = max(state["sex"]["male"], state["sex"]["female"])
    return f"{told}, {round(100 * chance)} in 100"


def moult_range(forecast):
    """The days of a range; what may begin in the night before p10 begins tonight."""
    lo, hi = day(forecast["p10"]), day(forecast["p90"])
    if 0 < forecast["days"]["p10"] <= .5:
        return "tonight or tomorrow" if hi <= lo else f"tonight to {short(hi)}"
    # never one single day: where both fall together the next day joins
    return day_range(lo, hi if hi > lo else lo + datetime.timedelta(1))


def moulting(forecast):
    """What is said of one whose skin was seen to split; None of any other."""
    seen = forecast["moulting"]
    if seen is None or seen["sign"] != "splitting" or forecast["days"]["p75"] > 1:
        return None
    on = day(seen["day"])
    if forecast["days"]["p10"] > 0:
        return "moulting now: its skin is splitting"
    return (f"has most probably moulted, {day_range(on, on + datetime.timedelta(1))}: "
            f"its skin was splitting on {short(on)}; look")


def moult(forecast):
    if forecast["why"] is not None or forecast["doubtful"]:
        return forecast["text"]
    if moulting(forecast) is not None:
        return moulting(forecast)
    if forecast["probably_moulted"]:
        return f"has probably moulted since it was last seen, {short(day(forecast['last_look']))}: look"
    said = "longer than usual in this stage, next moult perhaps " if forecast["seen_past_range"] else "next moult about "
    said += moult_range(forecast)
    if not forecast["seen_past_range"] and forecast["by_now"] >= .25:
        said += ", perhaps past: look"
    return said + ", a rough guess" if forecast["rough"] else said


def due(task, today):
    latest, on = day(task["latest"]), day(task["due"])
    if today > latest:
        when = "overdue since " + near(latest, today)
    elif today == on:
        when = "due today"
    else:
        when = "due since " + near(on, today)
    return f"{task['text']} – {when}"


def alone(hold, today):
    """The part of the card on what must be left alone; None where it need not be."""
    if hold is None:
        return None
    if hold["until"] is None:
        again = f"; look again {until(day(hold['ask_again']), today)}" if hold["ask_again"] else ""
        return "leave alone until it has moulted" + again
    last = day(hold["until"])
    free = until(last + datetime.timedelta(1), today)
    if hold["reach"] == "touch":
        return f"do not touch; free again {free}"
    soft = day(hold["touch_until"])
    if soft > last:
        return f"leave alone; food again {free}, touching again {until(soft + datetime.timedelta(1), today)}"
    return f"leave alone; free again {free}"


def wrong_in_card(label, state, forecast, tasks, today, names):
    """Every fact that the label of one cup does not say as the journal has it, or says too much."""
    parts = [state["subject"] + ", ", names.get(state["species"], "kind unknown"), sex(state), moult(forecast)]
    parts.append(state["stage"] if not state["adult"] else "adult")
    due_now = [due(task, today) for task in tasks if day(task["due"]) <= today]
    parts += due_now
    held = alone(state["hold"], today)
    if held:
        parts.append(held)
    bad = [f"does not say “{part}”" for part in parts if part not in label]
    if not label.startswith(parts[0]):
        bad.append("does not begin with its number")
    if held is None and "leave alone" in label:
        bad.append("says leave alone")
    said = len(re.findall(r" – (?:over)?due ", label))
    if said != len(due_now):
        bad.append(f"says {said} tasks due, the plan has {len(due_now)}")
    if "overdue" in label and not any("overdue" in part for part in due_now):
        bad.append("says overdue")
    return [f"{state['subject']}: {why} in: {label}" for why in bad]
