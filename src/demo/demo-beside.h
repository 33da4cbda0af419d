/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-beside.h — a folder is made beside its final name and renamed when it is whole. */
#pragma once

#include <gio/gio.h>

/* Fills the folder `making`, which is not there yet; NULL error and TRUE, or FALSE. */
typedef gboolean (*DemoFill) (const char *making, gpointer data, GError **error);

/* `dir` must not exist or be empty. Nothing half-made is left behind. */
gboolean demo_beside (const char *dir, DemoFill fill, gpointer data, GError **error);

/* What runs that were killed left beside `dir`, also under other names; what a living run makes, and what
 * is not marked as half-made, stays. */
void demo_beside_clean (const char *dir);
