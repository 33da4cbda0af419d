/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-danger.h — what cannot wait, before all else that is said of an animal. */
#pragma once

#include <gtk/gtk.h>

#include "words/words.h"

/* It fell or is stuck; a temperature is of the shelf. */
gboolean app_is_danger (const CoreTask *task);
/* One row in `box` for each emergency of the plan, with a button that opens the emergency words. */
void app_danger_add (GtkBox *box, const WordsView *view, const CorePlan *plan);
/* That emergency in two or three words for its card; NULL = none. */
const char *app_danger_brief (const CorePlan *plan);
