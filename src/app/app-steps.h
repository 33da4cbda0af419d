/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-steps.h — the foot of the bench: one sentence that says what to do now, its
 * answers as buttons (and number keys), Back and Next. At the last step Next is
 * Record. Signals: "record"; "moved" after the step changed. */
#pragma once

#include "app/app-marks.h"

#define APP_TYPE_STEPS (app_steps_get_type ())
G_DECLARE_FINAL_TYPE (AppSteps, app_steps, APP, STEPS, GtkWidget)

/* `marks` is borrowed: it knows what is missing. */
GtkWidget *app_steps_new (AppMarks *marks);
void app_steps_set_model (AppSteps *self, BenchModel *model); /* may be NULL */
/* While it is being recorded nothing can be pressed. */
void app_steps_set_busy (AppSteps *self, gboolean busy);
void app_steps_next (AppSteps *self); /* as the button; not Record */
void app_steps_back (AppSteps *self);
/* Answer `number` (1 …) of the present step; FALSE = there is none. */
gboolean app_steps_answer (AppSteps *self, int number);
const char *app_step_name (BenchStep step); /* "the small plate" */
