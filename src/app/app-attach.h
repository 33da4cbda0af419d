/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-attach.h — pictures onto one subject, dropped, chosen or from the clipboard.
 *
 * Each is entered by itself and said. A picture of the clipboard that is no file says no day: it is asked
 * for first, and none is an answer.
 */
#pragma once

#include "app/app-window.h"

/* Called for each that is in the journal now. TRUE: it was put on the photo bench. */
typedef gboolean (*AppAttached) (AppWindow *window, CoreId subject, CoreId photo);

/* `attached` may be NULL. */
void app_attach_files (AppWindow *window, CoreId subject, GSList *files, AppAttached attached);
/* What is in the clipboard; says so where that is no picture. */
void app_attach_paste (AppWindow *window, CoreId subject, AppAttached attached);
