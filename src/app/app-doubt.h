/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-doubt.h — a form asks before it writes what is most likely a slip. */
#pragma once

#include "app/app-form.h"

G_BEGIN_DECLS

typedef void (*AppDoubtSure) (AppForm *form, gpointer data);

/* `question` NULL: `sure` at once. Else it is asked, and Enter goes back to the form. `data` is freed by
 * `data_free` (may be NULL) in either case. */
void app_doubt_ask (AppForm *form, const char *question, AppDoubtSure sure, gpointer data, GDestroyNotify data_free);

G_END_DECLS
