/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-photos.c — the drawn pictures of the demo and what the keeper read from some of them.
 *
 * Drawn in two threads, since drawing is most of the time that the demo takes;
 * attached one after the other through the desk, as a keeper would. */
#include <glib/gstdio.h>

#include "core/core-date.h"
#include "demo/demo-jpeg.h"
#include "demo/demo-private.h"

typedef enum
{
  READ_NOTHING, /* attached, not yet counted */
  READ_COUNT,   /* counted by the keeper */
  READ_BACK     /* told to be the back */
} Reading;

typedef struct
{
  gsize animal;
  int ago;          /* days before the last day */
  DemoSubject what;
  int level;
  gboolean unusable;
  gboolean large;   /* 12 megapixels, else 3 */
  Reading reading;
  int orientation;  /* EXIF, as the phone was held */
} DemoShot;

static const DemoShot shots[] = {
  { 0, 31, DEMO_SUBJECT_UNDERSIDE, 1, FALSE, FALSE, READ_COUNT, 1 },
  { 1, 31, DEMO_SUBJECT_UNDERSIDE, 2, FALSE, FALSE, READ_COUNT, 6 },
  { 2, 12, DEMO_SUBJECT_UNDERSIDE, 1, FALSE, TRUE, READ_NOTHING, 1 },
  { 4, 18, DEMO_SUBJECT_SHED, 2, FALSE, FALSE, READ_COUNT, 1 },
  { 7, 9, DEMO_SUBJECT_BACK, 1, FALSE, FALSE, READ_BACK, 8 },
  { 8, 40, DEMO_SUBJECT_UNDERSIDE, 1, FALSE, FALSE, READ_COUNT, 1 },
  { 8, 6, DEMO_SUBJECT_UNDERSIDE, 2, FALSE, FALSE, READ_COUNT, 1 },
  { 10, 25, DEMO_SUBJECT_UNDERSIDE, 2, FALSE, FALSE, READ_COUNT, 1 },
  { 14, 22, DEMO_SUBJECT_UNDERSIDE, 1, FALSE, TRUE, READ_COUNT, 6 },
  { 15, 22, DEMO_SUBJECT_UNDERSIDE, 2, FALSE, FALSE, READ_COUNT, 1 },
  { 17, 5, DEMO_SUBJECT_UNDERSIDE, 3, FALSE, FALSE, READ_NOTHING, 1 },
  { 18, 7, DEMO_SUBJECT_SHED, 1, FALSE, TRUE, READ_COUNT, 1 },
  { 22, 44, DEMO_SUBJECT_UNDERSIDE, 1, FALSE, FALSE, READ_COUNT, 1 },
  { 22, 8, DEMO_SUBJECT_UNDERSIDE, 1, FALSE, FALSE, READ_COUNT, 3 },
  { 23, 15, DEMO_SUBJECT_WINGS, 1, FALSE, FALSE, READ_NOTHING, 1 },
  { 26, 3, DEMO_SUBJECT_UNDERSIDE, 3, TRUE, FALSE, READ_NOTHING, 1 },
  { 33, 20, DEMO_SUBJECT_UNDERSIDE, 2, FALSE, FALSE, READ_COUNT, 1 },
  { 34, 20, DEMO_SUBJECT_UNDERSIDE, 1, FALSE, TRUE, READ_COUNT, 1 },
};

typedef struct
{
  const DemoShot *shot;
  guint64 seed;
  char *path;
  CoreDay day;
  DemoTruth truth;
  int width, height;
  GError *error;
} Drawn;

static CoreSex
sex_of (const DemoShot *shot)
{
  return demo_animals[shot->animal].sex;
}

static void
draw_cb (gpointer data, gpointer user)
{
  Drawn *drawn = data;
  const DemoShot *shot = drawn->shot;
  char day[11];
  g_autofree char *taken = NULL;
  DemoDrawOptions options = { .seed = drawn->seed,
                              .width = shot->large ? 4000 : 2048,
                              .height = shot->large ? 3000 : 1536,
                              .subject = shot->what,
                              .sex = sex_of (shot) == CORE_SEX_MALE ? DEMO_SEX_MALE : DEMO_SEX_FEMALE,
                              .level = shot->level,
                              .unusable = shot->unusable };
  g_autoptr (DemoDrawing) drawing = demo_draw (&options);

  core_day_to_text (drawn->day, day);
  taken = g_strdup_printf ("%s 20:%02d:%02d", day, (int) (drawn->seed % 60), (int) (drawn->seed * 7 % 60));
  drawn->truth = drawing->truth;
  drawn->width = drawing->width;
  drawn->height = drawing->height;
  (void) demo_jpeg_write (drawn->path, drawing->rgb, drawing->width, drawing->height, 88, shot->orientation, taken,
                          &drawn->error);
}

/* ---- what the keeper read ---- */

static void
text (CoreEntry *entry, const char *key, const char *value)
{
  if (core_entry_set_text (entry, key, value) != CORE_VALUE_OK)
    g_error ("demo: %s=%s is not accepted", key, value);
}

static char *
list_of (const double *numbers, gsize n)
{
  GString *out = g_string_new (NULL);

  for (gsize i = 0; i < n; i++)
    {
      char number[32];

      core_number_format (numbers[i], 4, number);
      g_string_append_printf (out, "%s%s", i > 0 ? "," : "", number);
    }
  return g_string_free (out, FALSE);
}

static CoreEntry *
marked_entry (const Drawn *drawn, CoreId subject, const DeskPhoto *photo)
{
  const DemoShot *shot = drawn->shot;
  const DemoTruth *truth = &drawn->truth;
  CoreEntry *entry = demo_entry (CORE_KIND_MARKED, subject, drawn->day);
  g_autofree char *axis
    = list_of ((const double[]){ truth->base.x, truth->base.y, truth->mid.x, truth->mid.y, truth->tip.x, truth->tip.y }, 6);
  g_autofree char *bounds = list_of (truth->along, (gsize) MAX (0, truth->n_bounds));
  g_autofree char *count = g_strdup_printf ("%d", truth->count);

  if (core_entry_set_ref (entry, CORE_KEY_PHOTO, photo->photo) != CORE_VALUE_OK)
    g_error ("demo: photo");
  text (entry, "of", shot->what == DEMO_SUBJECT_SHED ? "shed" : "animal");
  text (entry, "side", shot->reading == READ_BACK ? "back" : "underside");
  if (shot->reading == READ_BACK)
    return entry;
  text (entry, "axis", axis);
  text (entry, "bounds", bounds);
  text (entry, "count", count);
  text (entry, "by", "keeper");
  text (entry, "small_plate", "not");
  text (entry, "last_plate", shot->level > 1 ? "unclear" : sex_of (shot) == CORE_SEX_MALE ? "small" : "boat");
  return entry;
}

static gboolean
attach (Desk *desk, const Drawn *drawn, CoreId subject, GError **error)
{
  DeskSync sync = { NULL, NULL };
  g_autoptr (GFile) file = g_file_new_for_path (drawn->path);
  DeskPhoto photo = { 0 };
  GPtrArray *entries;
  gboolean ok;

  desk_photo_add_async (desk, subject, file, CORE_DAY_NONE, NULL, desk_sync_cb, &sync);
  ok = desk_photo_add_finish (desk, desk_sync_wait (&sync), &photo, error);
  g_clear_object (&sync.result);
  if (!ok || drawn->shot->reading == READ_NOTHING)
    return ok;
  entries = g_ptr_array_new_with_free_func ((GDestroyNotify) core_entry_free);
  g_ptr_array_add (entries, marked_entry (drawn, subject, &photo));
  return demo_write (desk, entries, error);
}

static void
draw_all (Drawn drawn[G_N_ELEMENTS (shots)], CoreDay last, const char *dir)
{
  GThreadPool *pool = g_thread_pool_new (draw_cb, NULL, 2, TRUE, NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (shots); i++)
    {
      drawn[i].shot = &shots[i];
      drawn[i].seed = 4200 + i;
      drawn[i].day = last - shots[i].ago;
      drawn[i].path = g_strdup_printf ("%s/IMG_%04u.jpg", dir, (guint) (1200 + 7 * i));
      (void) g_thread_pool_push (pool, &drawn[i], NULL);
    }
  g_thread_pool_free (pool, FALSE, TRUE);
}

gboolean
demo_write_photos (Desk *desk, CoreDay last, const CoreId *subjects, GCancellable *cancellable, GError **error)
{
  Drawn drawn[G_N_ELEMENTS (shots)] = { 0 };
  g_autofree char *dir = g_dir_make_tmp ("mantidary-demo-XXXXXX", error);
  gboolean ok = dir != NULL;

  if (!ok)
    return FALSE;
  draw_all (drawn, last, dir);
  for (gsize i = 0; i < G_N_ELEMENTS (shots); i++)
    {
      if (ok && drawn[i].error != NULL)
        {
          g_propagate_error (error, g_steal_pointer (&drawn[i].error));
          ok = FALSE;
        }
      if (ok)
        ok = !g_cancellable_set_error_if_cancelled (cancellable, error)
             && attach (desk, &drawn[i], subjects[drawn[i].shot->animal], error);
      (void) g_remove (drawn[i].path);
      g_clear_error (&drawn[i].error);
      g_free (drawn[i].path);
    }
  (void) g_rmdir (dir);
  return ok;
}
