/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-gallery.c — see desk-gallery.h.
 *
 * A scale comes from what was measured in the picture itself, against a ruler or a disc; else from two
 * things that the keeper gave: base and tip of the abdomen, marked on the picture, and the length of
 * the abdomen, measured in the same stage. A shed skin has no scale of its animal: its rings slide over
 * each other. */
#include "desk/desk-gallery.h"

#include <math.h>

#include "desk/desk-photos.h"
#include "desk/desk-private.h"

#define MOST_MARKS 5       /* of an axis, as desk-mark.c takes them */
#define ROUND .4           /* of the axis: what is shown round it */
#define MARK_PX 2.0        /* how well a mark is set: pixels; common practice, no source */
#define MEASURED_SHARE .05 /* of a length whose error nobody gave; common practice, no source */

/* ---- scale ---- */

/* Its length; the part is what lies round it, wide enough for the legs. */
static double
axis_px (const CoreEntry *marks, const DeskPicture *picture, DeskPart *part)
{
  double xy[2 * MOST_MARKS], length = 0, x0 = INFINITY, y0 = INFINITY, x1 = 0, y1 = 0;
  size_t n = core_entry_list (marks, CORE_KEY_AXIS, xy, G_N_ELEMENTS (xy));

  if (n > G_N_ELEMENTS (xy))
    return 0;
  for (size_t i = 0; i + 1 < n; i += 2)
    {
      x0 = MIN (x0, xy[i]);
      y0 = MIN (y0, xy[i + 1]);
      x1 = MAX (x1, xy[i]);
      y1 = MAX (y1, xy[i + 1]);
      length += i > 0 ? hypot (xy[i] - xy[i - 2], xy[i + 1] - xy[i - 1]) : 0;
    }
  part->x = MAX (0, x0 - ROUND * length);
  part->y = MAX (0, y0 - ROUND * length);
  part->width = MIN (picture->width, x1 + ROUND * length) - part->x;
  part->height = MIN (picture->height, y1 + ROUND * length) - part->y;
  return length;
}

/* Measured in the picture itself; without marks the part is all of it. */
static gboolean
own_scale (Desk *self, DeskPicture *picture, gboolean marked)
{
  CoreScale scale;

  if (picture->width < 1 || picture->height < 1 || !desk_photo_scale (self, picture->first, &scale, NULL))
    return FALSE;
  picture->px_per_mm = 1 / scale.mm_per_px;
  picture->scale_sd = scale.share_sd;
  if (!marked)
    picture->part = (DeskPart) { 0, 0, picture->width, picture->height };
  return TRUE;
}

static void
find_scale (Desk *self, const CoreState *state, const CorePhotoRef *ref, DeskPicture *picture)
{
  const CoreMeasure *measure = desk_photo_abdomen (state, ref->stage, picture->day);
  const CoreEntry *marks = desk_mark_of (self, state->subject, picture->first);
  double px = marks != NULL ? axis_px (marks, picture, &picture->part) : 0;

  picture->px_per_mm = picture->scale_sd = NAN;
  if (own_scale (self, picture, px >= 2 * MARK_PX) || measure == NULL || picture->shows.of == CORE_OF_SHED
      || picture->shows.side < 0)
    return;
  if (px < 2 * MARK_PX || picture->part.width < 1 || picture->part.height < 1)
    return;
  picture->px_per_mm = px / measure->mm;
  picture->scale_sd = hypot (M_SQRT2 * MARK_PX / px,
                             isfinite (measure->sd) ? measure->sd / measure->mm : MEASURED_SHARE);
}

/* ---- what it shows ---- */

static const CoreSexReading *
reading_of (const CoreState *state, const CorePhotoRef *ref)
{
  for (size_t i = 0; i < state->sex.n; i++)
    if (state->sex.v[i].from == CORE_KIND_MARKED &&
        (core_id_equal (state->sex.v[i].photo, ref->photo) ||
         core_id_equal (state->sex.v[i].photo, ref->entry)))
      return &state->sex.v[i];
  return NULL;
}

static WordsShown
what_it_shows (const CoreState *state, const CorePhotoRef *ref, const CoreSexReading *reading)
{
  gboolean last = ref->stage >= 0 && (gsize) ref->stage + 1 == state->stages.n;
  WordsShown shows = { .moults = core_state_moults_at (state, ref->stage),
                       .about = state->basis != CORE_BASIS_COUNTED || state->moults_sd > .3,
                       .adult = last && state->adult,
                       .subadult = last && state->subadult,
                       .of = reading == NULL ? -1 : reading->of_shed ? CORE_OF_SHED : CORE_OF_ANIMAL,
                       .side = reading == NULL ? -1 : reading->side };

  if (ref->stage >= 0 && !shows.adult && state->stages.v[ref->stage].seen == CORE_SEEN_SUBADULT)
    shows.subadult = TRUE;
  return shows;
}

static void
add_picture (Desk *self, const CoreState *state, const CorePhotoRef *ref, GArray *pictures)
{
  const CoreSexReading *reading = reading_of (state, ref);
  DeskPicture picture = { .subject = state->subject, .photo = ref->entry };
  DeskPhoto info;

  picture.first = desk_photo_first (self, ref->entry);
  picture.day = ref->taken != CORE_DAY_NONE && ref->taken < ref->day ? ref->taken : ref->day;
  picture.dated = ref->taken != CORE_DAY_NONE;
  picture.shows = what_it_shows (state, ref, reading);
  picture.plates = reading != NULL && reading->by_keeper ? reading->count : -1;
  if (desk_photo_info (self, ref->entry, &info))
    {
      picture.width = info.width;
      picture.height = info.height;
    }
  find_scale (self, state, ref, &picture);
  g_array_append_val (pictures, picture);
}

/* ---- all of them ---- */

int
desk_picture_stage (const DeskPicture *picture)
{
  const WordsShown *shows = &picture->shows;

  return shows->adult         ? CORE_MAX_MOULTS + 1
         : shows->moults >= 0 ? shows->moults
                              : CORE_MAX_MOULTS + 2;
}

static int
compare_pictures (gconstpointer a, gconstpointer b)
{
  const DeskPicture *x = a, *y = b;
  int stages = desk_picture_stage (x) - desk_picture_stage (y);

  if (stages != 0)
    return stages;
  return x->day != y->day ? (x->day < y->day ? -1 : 1) : core_id_compare (x->first, y->first);
}

static void
add_subject (Desk *self, DeskSubject *subject, GArray *pictures)
{
  const CoreState *state = desk_subject_state (subject);
  g_autoptr (GArray) own = g_array_new (FALSE, FALSE, sizeof (DeskPicture));

  for (size_t i = 0; i < state->photos.n; i++)
    add_picture (self, state, &state->photos.v[i], own);
  g_array_sort (own, compare_pictures);
  g_array_append_vals (pictures, own->data, own->len);
}

GArray *
desk_gallery (Desk *self, CoreId subject)
{
  GArray *pictures = g_array_new (FALSE, FALSE, sizeof (DeskPicture));
  g_autoptr (GPtrArray) subjects = g_ptr_array_new ();

  g_return_val_if_fail (DESK_IS_DESK (self), pictures);

  for (guint i = 0; i < self->all.order->len; i++)
    {
      const DeskRecord *record = self->all.order->pdata[i];

      if ((core_id_is_none (subject) || core_id_equal (record->id, subject)) &&
          desk_subject_state (record->now)->photos.n > 0)
        g_ptr_array_add (subjects, record->now);
    }
  g_ptr_array_sort (subjects, desk_compare_by_number);
  for (guint i = 0; i < subjects->len; i++)
    add_subject (self, subjects->pdata[i], pictures);
  return pictures;
}

int
desk_gallery_find (Desk *self, const GArray *pictures, CoreId photo)
{
  CoreId first = desk_photo_first (self, photo);

  for (guint i = 0; i < pictures->len; i++)
    if (core_id_equal (g_array_index (pictures, DeskPicture, i).first, first))
      return (int) i;
  return -1;
}

GArray *
desk_gallery_growth (const GArray *pictures)
{
  GArray *chosen = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < pictures->len; i++)
    {
      const DeskPicture *picture = &g_array_index (pictures, DeskPicture, i);
      const DeskPicture *last =
        chosen->len > 0
          ? &g_array_index (pictures, DeskPicture, g_array_index (chosen, guint, chosen->len - 1))
          : NULL;

      if (!isfinite (picture->px_per_mm) || picture->shows.of == CORE_OF_SHED)
        continue;
      if (last == NULL || desk_picture_stage (last) != desk_picture_stage (picture))
        g_array_append_val (chosen, i);
      else if (picture->scale_sd < last->scale_sd)
        g_array_index (chosen, guint, chosen->len - 1) = i;
    }
  return chosen;
}
