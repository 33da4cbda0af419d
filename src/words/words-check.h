/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-check.h — what has become of the sex check, once a reading was recorded. */
#pragma once

#include "core/core-plan.h"
#include "words/words.h"

/* "The sex check is closed."; NULL for whom none is ever asked. `plan` is of today, after the reading. */
char *words_sex_check_now (const WordsView *view,
                           const CoreState *state,
                           const CoreProfile *profile,
                           const CoreSexVerdict *verdict,
                           const CoreForecast *forecast,
                           const CorePlan *plan);
