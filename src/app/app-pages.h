/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-pages.h — the list of pages in the window's stack; a new page is one row there.
 *
 * A page is a GtkWidget with a property "desk" (Desk, writable, may be NULL).
 */
#pragma once

#include "app/app-types.h"

void app_pages_fill (GtkStack *pages);
void app_pages_set_desk (GtkStack *pages, Desk *desk);
/* What to tell a person about an error of any of our domains: what is wrong, what to do. */
char *app_error_text (const GError *error);
/* The same, naming the folder or file that it is about (NULL = none). */
char *app_error_text_of (const GError *error, const char *what);
