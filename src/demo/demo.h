/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo.h — an invented keeper's room: about 40 animals on three shelves over 120 days.
 *
 * The same last day always gives the same facts and the same photo files; only
 * identifiers and the time of writing differ. Nothing in it is a real person, shop or brand.
 */
#pragma once

#include <gio/gio.h>

#include "desk/desk.h"

/* Make the demo journal in `dir` (which must not exist or be empty), its story ending on the
 * evening of `last`. Blocks for some seconds. */
gboolean demo_make (const char *dir, CoreDay last, GCancellable *cancellable, GError **error);

/* A synthetic collection of any size, for measuring: `animals` come and go over the `days` that
 * end on `last`. The same arguments always give the same facts and the same ids. */
typedef struct
{
  guint animals; /* 1 … DEMO_SYNTH_ANIMALS */
  guint days;    /* 1 … DEMO_SYNTH_DAYS */
  guint64 seed;
} DemoSynth;
#define DEMO_SYNTH_ANIMALS 100000
#define DEMO_SYNTH_DAYS 4000

/* What it made. */
typedef struct
{
  guint64 entries;
  guint animals, living, shelves;
} DemoSynthMade;

/* As demo_make(). `made` may be NULL. */
gboolean demo_synth_make (const char *dir, CoreDay last, const DemoSynth *what, DemoSynthMade *made,
                          GCancellable *cancellable, GError **error);

/* The demo's own last day, on which it is looked at; CORE_DAY_NONE for any other journal. */
CoreDay demo_day_of (Desk *desk);

/* Make it unless a demo journal is there already. Nothing half-made is left behind. */
void demo_ensure_async (const char *dir, CoreDay last, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
gboolean demo_ensure_finish (GAsyncResult *result, GError **error);
