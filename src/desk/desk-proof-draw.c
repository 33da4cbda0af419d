/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-proof-draw.c — where everything stands on a proof sheet.
 *
 * Lines are light with a dark rim, so that they stand out of a pale and of a dark animal alike.
 * The words stand below the picture, on white: nothing of the picture is hidden by them. */
#include "desk/desk-proof-private.h"

#include <math.h>

#include "exchange/exch-label.h"

/* Ours: one mark, base or tip, is set to this share of the axis. */
#define MARK_SHARE .01
/* Ours: one mark on a ruler is set to so many pixels, or to this share of the longer side. */
#define MARK_PX 2
#define MARK_PICTURE .005
#define NARROWEST 560 /* pixels; below it the words would be a column */

static const ImgInk INK = { 26, 26, 26, 255 };
static const ImgInk RIM = { 0, 0, 0, 170 };
static const ImgInk LIGHT = { 255, 255, 255, 255 };
static const ImgInk BAND = { 255, 255, 255, 70 };

typedef struct
{
  ImgProof *sheet;
  const ImgPixels *picture;
  const ImgStrip *strip;
  double thick; /* half of a line, pixels */
} Drawer;

/* Marks count from the centre of a pixel. */
static ImgPoint
on_sheet (double x, double y)
{
  return (ImgPoint){ x + .5, y + .5 };
}

static void
stroke (const Drawer *d, const ImgPoint *points, gsize n)
{
  img_proof_stroke (d->sheet, RIM, points, n, 2 * d->thick);
  img_proof_stroke (d->sheet, LIGHT, points, n, d->thick);
}

static void
label (ImgProof *sheet, const ExchLabel *text, ImgInk letters, ImgInk rim, int x, int y)
{
  if (text->halo != NULL)
    img_proof_mask (sheet, rim, text->halo, text->width, text->height, x, y);
  img_proof_mask (sheet, letters, text->letters, text->width, text->height, x, y);
}

/* ---- over the picture ---- */

static void
across (const Drawer *d, double at, ImgPoint out[2])
{
  double from[2], to[2];

  img_strip_across (d->strip, at, from, to);
  out[0] = on_sheet (from[0], from[1]);
  out[1] = on_sheet (to[0], to[1]);
}

#define ARC 9 /* points of one */

/* An arc from the one end over the axis to the other. */
static void
draw_line (const Drawer *d, const ProofLine *line)
{
  double band = line->sd * d->strip->axis_px, x, y;
  ImgPoint ends[2], middle, arc[ARC];

  across (d, line->at, ends);
  img_strip_point (d->strip, line->at, &x, &y);
  middle = on_sheet (x, y);
  for (int i = 0; i < ARC; i++)
    {
      double t = 2. * i / (ARC - 1) - 1, from = t * (t - 1) / 2, over = 1 - t * t, to = t * (t + 1) / 2;

      arc[i] = (ImgPoint){ from * ends[0].x + over * middle.x + to * ends[1].x,
                           from * ends[0].y + over * middle.y + to * ends[1].y };
    }
  if (band > 2 * d->thick)
    img_proof_stroke (d->sheet, BAND, arc, ARC, band);
  stroke (d, arc, ARC);
}

static void
draw_end (const Drawer *d, double at)
{
  double x, y;
  ImgPoint dot;

  img_strip_point (d->strip, at, &x, &y);
  dot = on_sheet (x, y);
  img_proof_stroke (d->sheet, RIM, &dot, 1, 4 * d->thick);
  img_proof_stroke (d->sheet, LIGHT, &dot, 1, 3 * d->thick);
}

/* Beside the body at the share `at`; `side` -1 or 1. */
static ImgPoint
beside (const Drawer *d, double at, int side, double gap)
{
  ImgPoint ends[2];
  double dx, dy, width;

  across (d, at, ends);
  dx = ends[1].x - ends[0].x;
  dy = ends[1].y - ends[0].y;
  width = MAX (hypot (dx, dy), 1e-6);
  if (side < 0)
    return (ImgPoint){ ends[0].x - dx / width * gap, ends[0].y - dy / width * gap };
  return (ImgPoint){ ends[1].x + dx / width * gap, ends[1].y + dy / width * gap };
}

static double
plate_centre (const DeskProof *self, int plate)
{
  double from = plate == 0 ? 0 : self->lines[plate - 1].at;
  double to = plate == self->n_lines ? 1 : self->lines[plate].at;

  return (from + to) / 2;
}

/* The side on which more numbers lie in the picture. */
static int
roomy_side (const Drawer *d, const DeskProof *self, double gap)
{
  int inside[2] = { 0, 0 };

  for (int plate = 0; plate <= self->n_lines; plate++)
    for (int side = 0; side < 2; side++)
      {
        ImgPoint p = beside (d, plate_centre (self, plate), side == 0 ? -1 : 1, gap);

        inside[side] += p.x >= gap && p.y >= gap && p.x <= d->picture->width - gap &&
                        p.y <= d->picture->height - gap;
      }
  return inside[1] > inside[0] ? 1 : -1;
}

static void
draw_numbers (const Drawer *d, const DeskProof *self)
{
  double size = CLAMP (d->strip->axis_px / 18, 12, 120);
  int side = roomy_side (d, self, size);

  for (int plate = 0; plate <= self->n_lines; plate++)
    {
      g_autofree char *number = g_strdup_printf ("%d", plate + 1);
      g_autoptr (ExchLabel) text = exch_label_new (number, size, TRUE, 0, MAX (1, (int) (size / 9)));
      ImgPoint at = beside (d, plate_centre (self, plate), side, size);
      int x = (int) lround (at.x - text->width / 2.), y = (int) lround (at.y - text->height / 2.);

      label (d->sheet, text, LIGHT, RIM, CLAMP (x, 0, MAX (0, d->picture->width - text->width)),
             CLAMP (y, 0, MAX (0, d->picture->height - text->height)));
    }
}

static void
draw_marks (const Drawer *d, const DeskProof *self)
{
  for (int i = 0; i < self->n_lines; i++)
    draw_line (d, &self->lines[i]);
  draw_end (d, 0);
  draw_end (d, 1);
  if (self->n_lines > 0)
    draw_numbers (d, self);
}

/* ---- below it ---- */

/* The longest round length that takes at most a quarter of the width. */
static double
bar_mm (double px_per_mm, int width)
{
  static const double steps[] = { 1, 2, 5 };
  double best = 0;

  for (int power = -3; power <= 3; power++)
    for (gsize i = 0; i < G_N_ELEMENTS (steps); i++)
      if (steps[i] * pow (10, power) * px_per_mm <= width / 4.)
        best = steps[i] * pow (10, power);
  return best;
}

typedef struct
{
  GPtrArray *labels; /* ExchLabel */
  double size, mm;   /* mm 0 = no bar */
  int height;
} Foot;

static void
foot_clear (Foot *self)
{
  g_ptr_array_unref (self->labels);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Foot, foot_clear)

static void
foot_add (Foot *self, const char *text, gboolean bold, int width)
{
  ExchLabel *made = exch_label_new (text, bold ? self->size * 1.3 : self->size, bold,
                                    width - (int) (2 * self->size), 0);

  g_ptr_array_add (self->labels, made);
  self->height += made->height + (int) (self->size / 3);
}

static void
foot_init (Foot *self, const DeskProof *proof, const WordsProofScale *scale, gboolean lines, int width)
{
  WordsLang lang = proof->view.lang;
  g_autofree char *scaled = words_proof_scale (&proof->view, scale);
  gboolean bands = FALSE;

  self->size = CLAMP (width / 60., 13, 80);
  self->labels = g_ptr_array_new_with_free_func ((GDestroyNotify) exch_label_free);
  self->height = (int) (2 * self->size);
  self->mm = scale != NULL ? bar_mm (scale->px_per_mm, width) : 0;
  if (self->mm > 0)
    {
      g_autofree char *mm = words_quantity (&proof->view, self->mm, CORE_UNIT_MM);

      foot_add (self, mm, FALSE, width);
    }
  for (int i = 0; i < proof->n_lines; i++)
    bands = bands || proof->lines[i].sd > 0;
  foot_add (self, proof->title, TRUE, width);
  foot_add (self, proof->stage, FALSE, width);
  foot_add (self, proof->verdict, FALSE, width);
  for (int i = 0; proof->evidence[i] != NULL; i++)
    foot_add (self, proof->evidence[i], FALSE, width);
  if (lines && proof->n_lines > 0)
    {
      g_autofree char *said = words_proof_lines (lang, &(WordsProofLines){ proof->n_lines + 1, proof->by_keeper,
                                                                           proof->small_plate, proof->axis_open, bands });

      foot_add (self, said, FALSE, width);
    }
  foot_add (self, words_proof_check (lang), FALSE, width);
  foot_add (self, scaled, FALSE, width);
  foot_add (self, proof->made, FALSE, width);
}

/* A bar between two upright ends, and its length behind it. */
static int
draw_bar (const Foot *self, ImgProof *sheet, double px_per_mm, int x, int y, int height)
{
  double length = self->mm * px_per_mm, thick = MAX (2, self->size / 8);
  double middle = y + height / 2.;

  img_proof_box (sheet, INK, x, middle - thick / 2, x + length, middle + thick / 2);
  img_proof_box (sheet, INK, x, middle - 2 * thick, x + thick, middle + 2 * thick);
  img_proof_box (sheet, INK, x + length - thick, middle - 2 * thick, x + length, middle + 2 * thick);
  return x + (int) (length + self->size / 2);
}

static void
foot_draw (const Foot *self, ImgProof *sheet, double px_per_mm, int top)
{
  int left = (int) self->size, y = top + (int) self->size;

  for (guint i = 0; i < self->labels->len; i++)
    {
      const ExchLabel *text = self->labels->pdata[i];
      int x = left;

      if (i == 0 && self->mm > 0)
        x = draw_bar (self, sheet, px_per_mm, left, y, text->height);
      label (sheet, text, INK, INK, x, y);
      y += text->height + (int) (self->size / 3);
    }
}

/* ---- the whole ---- */

/* Of what lies between two marks, each of them a little off. */
static gboolean
scale_of (const DeskProof *self, const ImgPixels *picture, const ImgStrip *strip, WordsProofScale *out)
{
  double measured = isfinite (self->mm_sd) ? self->mm_sd / self->mm : CORE_MEASURE_SHARE;
  double off = MAX (MARK_PX, MARK_PICTURE * MAX (picture->width, picture->height));

  if (isfinite (self->ruler_mm))
    {
      *out = (WordsProofScale){ self->ruler_px / self->ruler_mm,
                                isfinite (self->ruler_share) ? self->ruler_share : M_SQRT2 * off / self->ruler_px,
                                self->ruler_mm, CORE_DAY_NONE };
      return TRUE;
    }
  if (strip == NULL || !isfinite (self->mm))
    return FALSE;
  *out = (WordsProofScale){ strip->axis_px / self->mm, hypot (measured, M_SQRT2 * MARK_SHARE), self->mm, self->mm_day };
  return TRUE;
}

static void
add_texts (const DeskProof *self, ImgProof *sheet, const WordsProofScale *scale)
{
  const char *tag = words_language_tag (self->view.lang);
  g_autofree char *evidence = g_strjoinv ("\n", self->evidence);
  g_autofree char *scaled = words_proof_scale (&self->view, scale);
  g_autofree char *verdict = g_strjoin ("\n", self->verdict, evidence, NULL);
  char taken[11];

  img_proof_text (sheet, "Title", tag, self->title);
  img_proof_text (sheet, "Species", tag, self->species);
  img_proof_text (sheet, "Stage", tag, self->stage);
  img_proof_text (sheet, "Verdict", tag, verdict);
  img_proof_text (sheet, "Scale", tag, scaled);
  img_proof_text (sheet, "Description", tag, self->made);
  if (self->taken != CORE_DAY_NONE)
    {
      core_day_to_text (self->taken, taken);
      img_proof_text (sheet, "Creation Time", "", taken);
    }
  img_proof_text (sheet, "Software", "", "Mantidary " MANTIDARY_VERSION);
}

ImgProof *
desk_proof_lay_out (
  const DeskProof *self, const ImgPixels *picture, const ImgStrip *strip, DeskProofInfo *info)
{
  int width = MAX (picture->width, NARROWEST);
  WordsProofScale known;
  const WordsProofScale *scale = scale_of (self, picture, strip, &known) ? &known : NULL;
  g_auto (Foot) foot = { 0 };
  ImgProof *sheet;

  foot_init (&foot, self, scale, strip != NULL, width);
  sheet = img_proof_new (picture, width, picture->height + foot.height, 0, 0);
  if (strip != NULL)
    {
      Drawer drawer = { sheet, picture, strip, CLAMP (strip->axis_px / 450, .8, 5) };

      draw_marks (&drawer, self);
    }
  foot_draw (&foot, sheet, scale != NULL ? scale->px_per_mm : 0, picture->height);
  if (scale != NULL)
    img_proof_set_scale (sheet, scale->px_per_mm);
  add_texts (self, sheet, scale);
  *info = (DeskProofInfo){ width, picture->height + foot.height, scale != NULL ? scale->px_per_mm : NAN,
                           scale != NULL ? scale->px_per_mm * scale->share : NAN,
                           strip != NULL && self->n_lines > 0 ? self->n_lines + 1 : 0 };
  return sheet;
}
