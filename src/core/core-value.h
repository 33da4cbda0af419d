/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-value.h — checks of single values; private to core-entry.c and its tests. */
#pragma once

#include "core/core-entry.h"

/* Text that a journal may hold: UTF-8, at most 4,000 bytes, no control character
 * (a note may have line ends and tabs). */
bool core_text_valid (const char *text, bool lines);
/* Fills n, ref (never text) of `out` from `value`, or says what is wrong with it. */
CoreValueStatus
core_value_parse (CoreKind kind, const CoreKindKey *row, const char *value, CoreValue *out);
/* As keys are named, and as words of a key are written, whether or not there is one of that name. */
bool core_name_valid (const char *text);
bool core_word_valid (const char *text);
CoreValueStatus core_value_check_number (const CoreKindKey *row, double n);
