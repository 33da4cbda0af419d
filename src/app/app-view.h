/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-view.h — from a DeskSubject to what a page shows; no widget, no rule.
 *
 * Counts and picks what the desk computed and lets words say it. */
#pragma once

#include "app/app-types.h"
#include "words/words.h"

/* The session's language, the desk's today and scheme. */
WordsView app_view (Desk *desk);
/* Something is due today or overdue (tasks whose due day has come, not held back). */
gboolean app_subject_is_due (const DeskSubject *subject, CoreDay today);
/* The first task due today by weight; NULL = nothing. */
const CoreTask *app_subject_first_due (const DeskSubject *subject, CoreDay today);
const char *app_task_symbol (CoreTaskKind kind);
/* The sentence over the boards, and the line of what is left from earlier evenings. Both owned, never NULL. */
void app_shelf_sentences (Desk *desk, CoreId place, GPtrArray *animals, char **sentence, char **left);

/* "Took back: 14 fed 2 house flies, and 12 more." */
char *app_change_text (Desk *desk, DeskChange *change);
/* "Saved: cup 15, belly 4. Ctrl+Z takes it back.": an entry that was just written, and how many with it. */
char *app_saved_text (Desk *desk, CoreId id, guint more);
/* "3 Sep: hung well": the day of an entry and what it says; NULL entry gives the day alone. */
char *app_entry_line (Desk *desk, DeskSubject *subject, CoreDay day, const CoreEntry *entry);
/* The trade name in the session's language; what was typed when no profile fits. */
const char *app_species_name (const DeskSubject *subject);
const char *app_profile_name (const CoreProfile *profile); /* the same of a profile; borrowed */
/* When its next moult may come, of an animal or a lot. */
char *app_moult_words (const WordsView *view, const DeskSubject *subject);
/* The reasons of a task or hold, one sentence after the other. */
char *app_reasons_text (const WordsView *view, const CoreReason *reasons, size_t n);
/* The same without the word that all of them share; owned. */
char *app_species_short (const DeskSubject *subject);
/* A phrase at the head of a line: its first letter in upper case; owned. */
/* A lot, an egg case or a culture: its one sentence, and all that its card shows. */
/* "lot · Hierodula", "egg case · ghost mantis", "feeder culture". */
char *app_other_kind (DeskSubject *subject);
char *app_other_sentence (Desk *desk, DeskSubject *subject);
char *app_other_cup_label (Desk *desk, DeskSubject *subject);
char *app_capitalised (const char *phrase);
