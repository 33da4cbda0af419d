/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-drop-down.h — a choice that is safe to make by keys. */
#pragma once

#include <gtk/gtk.h>

/* Once, after it was made. Closed, Up and Down step through its options and open nothing; in the
 * open list Return takes the row of the keyboard, never the one below a resting pointer. With
 * `letters` a letter goes to the next option that begins with it: not where letters do more. */
void app_drop_down_mend (GtkDropDown *self, gboolean letters);
