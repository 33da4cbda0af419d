/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-round-marks.h — what one cup may be marked with in a round, each with its letter.
 *
 * Letters come from the words of the language; what takes an animal off the shelf has a capital
 * one, so that no slip of one key does it. */
#pragma once

#include "app/app-types.h"

guint app_round_n_marks (void);
const char *app_round_mark_label (guint mark);   /* "refused"; static */
gunichar app_round_mark_letter (guint mark);     /* a capital one is typed with Shift */
gboolean app_round_mark_has_score (guint mark);  /* 1…5 follows */
/* The mark of a key, -1 none; Caps Lock makes no capital. */
int app_round_mark_of_key (guint keyval, GdkModifierType state);
/* Of an exception of a line; -1 = none of these. */
int app_round_mark_of (const CoreRoundException *said);
CoreRoundException app_round_mark_make (guint mark, const char *number, int score);
