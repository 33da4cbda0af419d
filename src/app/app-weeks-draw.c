/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-weeks-draw.c — one week: days, bands, signs. Every sign differs in shape, every band has its middle
 * half darker and a notch, so that all of it reads in black and white. */
#include "app/app-weeks-private.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-symbol.h"
#include "app/app-view.h"
#include "core/core-date.h"

#define INSET 9      /* of what stands in a column */
#define SIGN_WIDE 43 /* a sign with its count, at least */
#define SIGN 16
#define ALMOST_SURE .95

static double
column_x (int width, double days)
{
  return days * width / 7.0;
}

static float
week_y (const AppWeeksFrame *frame, const AppWeekBox *box)
{
  return (float) (WEEKS_HEAD + box->y - frame->scroll);
}

typedef enum
{
  PLAIN,
  STRONG,
  SMALL,
  SMALL_STRONG
} Style;

static PangoLayout *
layout_new (const AppWeeksFrame *frame, const char *text, Style style)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (frame->widget, text);
  PangoAttrList *attrs = pango_attr_list_new ();

  pango_attr_list_insert (attrs, pango_attr_font_features_new ("tnum"));
  if (style == STRONG || style == SMALL_STRONG)
    pango_attr_list_insert (attrs, pango_attr_weight_new (PANGO_WEIGHT_BOLD));
  if (style == SMALL || style == SMALL_STRONG)
    pango_attr_list_insert (attrs, pango_attr_scale_new (.87));
  pango_layout_set_attributes (layout, attrs);
  pango_attr_list_unref (attrs);
  return layout;
}

/* From x, centred on y; how wide it is. With `room` > 0 it is cut off there. */
static int
text_at (const AppWeeksFrame *frame, const char *text, Style style, const GdkRGBA *color, double x, double y, double room)
{
  g_autoptr (PangoLayout) layout = layout_new (frame, text, style);
  int wide, high;

  if (room > 0)
    {
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
      pango_layout_set_width (layout, (int) room * PANGO_SCALE);
    }
  pango_layout_get_pixel_size (layout, &wide, &high);
  gtk_snapshot_save (frame->snapshot);
  gtk_snapshot_translate (frame->snapshot, &GRAPHENE_POINT_INIT ((float) round (x), (float) round (y - high / 2.0)));
  gtk_snapshot_append_layout (frame->snapshot, layout, color);
  gtk_snapshot_restore (frame->snapshot);
  return wide;
}

static void
fill (const AppWeeksFrame *frame, const GdkRGBA *color, double x, double y, double wide, double high)
{
  gtk_snapshot_append_color (frame->snapshot, color,
                             &GRAPHENE_RECT_INIT ((float) x, (float) y, (float) wide, (float) high));
}

void
app_weeks_draw_head (const AppWeeksFrame *frame)
{
  for (int day = 0; day < 7; day++)
    text_at (frame, words_weekday_short (WORDS_LOCAL, day), SMALL, &frame->ink.dim,
             column_x (frame->width, day) + INSET, WEEKS_HEAD / 2.0, 0);
  fill (frame, &frame->hair, 0, WEEKS_HEAD - 1, frame->width, 1);
}

/* ---- days ---- */

static void
draw_chosen (const AppWeeksFrame *frame, double x, double y, double wide, double high)
{
  GskRoundedRect outline;
  GdkRGBA wash = frame->ink.accent;
  float line = frame->focus ? 2 : 1;
  GdkRGBA edge = frame->focus ? frame->ink.accent : frame->ink.line;

  wash.alpha = .09f;
  gsk_rounded_rect_init_from_rect (
    &outline, &GRAPHENE_RECT_INIT ((float) x + 1, (float) y + 2, (float) wide - 2, (float) high - 4), 6);
  gtk_snapshot_push_rounded_clip (frame->snapshot, &outline);
  gtk_snapshot_append_color (frame->snapshot, &wash, &outline.bounds);
  gtk_snapshot_pop (frame->snapshot);
  gtk_snapshot_append_border (frame->snapshot, &outline, (float[4]){ line, line, line, line },
                              (GdkRGBA[4]){ edge, edge, edge, edge });
}

static void
draw_date (const AppWeeksFrame *frame, CoreDay day, double x, double y)
{
  int year, month, d;
  g_autofree char *number = NULL;
  gboolean today = day == frame->view->today;
  const GdkRGBA *color = today ? &frame->ink.accent : day < frame->view->today ? &frame->ink.dim : &frame->ink.text;
  int wide;

  core_day_to_ymd (day, &year, &month, &d);
  number = d == 1 || day == frame->weeks->from ? words_day (frame->view, day, WORDS_DAY_SHORT) : g_strdup_printf ("%d", d);
  wide = text_at (frame, number, today ? STRONG : PLAIN, color, x + INSET, y + WEEKS_DATE / 2.0 + 2, 0);
  if (today)
    fill (frame, &frame->ink.accent, x + INSET - 1, y + WEEKS_DATE - 2, wide + 2, 2);
}

/* ---- signs ---- */

int
app_weeks_signs_in (int width)
{
  return MAX (1, (width / 7 - INSET) / SIGN_WIDE);
}

/* A look for a shed skin is a look, water for the floor comes out of the spray bottle. */
static CoreTaskKind
drawn_as (CoreTaskKind kind)
{
  return kind == CORE_TASK_SHED ? CORE_TASK_LOOK : kind == CORE_TASK_WATER ? CORE_TASK_MIST : kind;
}

int
app_weeks_signs (const DeskWeekDay *day, AppWeeksSign drawn[CORE_N_TASKS])
{
  guint counts[CORE_N_TASKS] = { 0 };
  int n = 0;

  for (int kind = 0; kind < CORE_N_TASKS; kind++)
    counts[drawn_as ((CoreTaskKind) kind)] += day->tasks[kind];
  for (int kind = 0; kind < CORE_N_TASKS; kind++)
    {
      int at = n, hand = desk_hand_of ((CoreTaskKind) kind, CORE_RANK_USUAL, -1);

      if (counts[kind] == 0)
        continue;
      for (; at > 0 && desk_hand_of (drawn[at - 1].kind, CORE_RANK_USUAL, -1) > hand; at--)
        drawn[at] = drawn[at - 1];
      drawn[at] = (AppWeeksSign) { (CoreTaskKind) kind, counts[kind] };
      n++;
    }
  return n;
}

static void
draw_sign (const AppWeeksFrame *frame, const AppWeeksSign *sign, gboolean now, double x, double y)
{
  g_autofree char *number = g_strdup_printf ("%u", sign->n);
  const GdkRGBA *color = now ? &frame->ink.due : &frame->ink.dim;

  app_symbol_snapshot (frame->snapshot, app_task_symbol (sign->kind), (float) round (x), (float) round (y - SIGN / 2.0), SIGN,
                       color, gtk_widget_get_scale_factor (frame->widget));
  text_at (frame, number, now ? SMALL_STRONG : SMALL, now ? &frame->ink.text : &frame->ink.dim, x + SIGN + 4, y, 0);
}

/* What has no room is one number: the day's list says it all. */
static void
draw_signs (const AppWeeksFrame *frame, const DeskWeekDay *day, gboolean now, int lines, double x, double y)
{
  AppWeeksSign drawn[CORE_N_TASKS];
  int n = app_weeks_signs (day, drawn), in_line = app_weeks_signs_in (frame->width);
  int room = in_line * lines, shown = n <= room ? n : room - 1;
  double apart = (column_x (frame->width, 1) - INSET) / in_line;
  guint rest = 0;

  for (int i = 0; i < shown; i++)
    draw_sign (frame, &drawn[i], now, x + INSET + (i % in_line) * apart,
               y + (i / in_line) * WEEKS_SIGNS + WEEKS_SIGNS / 2.0);
  for (int i = shown; i < n; i++)
    rest += drawn[i].n;
  if (rest > 0)
    {
      g_autofree char *text = g_strdup_printf ("+%u", rest);

      text_at (frame, text, now ? SMALL_STRONG : SMALL, now ? &frame->ink.text : &frame->ink.dim,
               x + INSET + (shown % in_line) * apart, y + (shown / in_line) * WEEKS_SIGNS + WEEKS_SIGNS / 2.0, 0);
    }
}

/* ---- bands ---- */

/* The part of [from, to) that lies in the week; FALSE: none. */
static gboolean
part_of_week (const AppWeeksFrame *frame, CoreDay monday, double from, double to, double *x, double *wide)
{
  double a = MAX (from, monday), b = MIN (to, monday + 7);

  *x = column_x (frame->width, a - monday);
  *wide = column_x (frame->width, b - monday) - *x;
  return b > a;
}

/* An end that goes on in another week is cut straight. */
static void
band_shape (const AppWeeksFrame *frame, const GdkRGBA *color, const graphene_rect_t *area, gboolean begins, gboolean ends)
{
  GskRoundedRect shape;
  float r = area->size.height / 2;
  graphene_size_t left = GRAPHENE_SIZE_INIT (begins ? r : 0, begins ? r : 0);
  graphene_size_t right = GRAPHENE_SIZE_INIT (ends ? r : 0, ends ? r : 0);

  gsk_rounded_rect_init (&shape, area, &left, &right, &right, &left);
  gtk_snapshot_push_rounded_clip (frame->snapshot, &shape);
  gtk_snapshot_append_color (frame->snapshot, color, area);
  gtk_snapshot_pop (frame->snapshot);
}

static int
width_of (const AppWeeksFrame *frame, const char *text, Style style)
{
  g_autoptr (PangoLayout) layout = layout_new (frame, text, style);
  int wide;

  pango_layout_get_pixel_size (layout, &wide, NULL);
  return wide;
}

static char *
band_words (const DeskBand *band)
{
  const char *label = desk_subject_label (band->subject);

  if (band->adult > ALMOST_SURE)
    /* Translators: the number of a cup, at its next moult: "41 becomes adult" */
    return g_strdup_printf (C_ ("calendar", "%s becomes adult"), label);
  if (band->adult > .5)
    return g_strdup_printf (C_ ("calendar", "%s, perhaps adult"), label);
  return g_strdup (label);
}

static void
draw_band (const AppWeeksFrame *frame, const DeskBand *band, CoreDay monday, double y)
{
  GdkRGBA color = frame->ink.accent;
  g_autofree char *words = band_words (band);
  double x, wide, half_x, half_wide, room;

  if (!part_of_week (frame, monday, band->from, band->to + 1, &x, &wide))
    return;
  color.alpha = .20f;
  band_shape (frame, &color, &GRAPHENE_RECT_INIT ((float) x + 2, (float) y, (float) wide - 4, WEEKS_BAND),
              band->from >= monday, band->to < monday + 7);
  if (part_of_week (frame, monday, band->half[0], band->half[1], &half_x, &half_wide))
    {
      half_x = MAX (half_x, x + 2);
      half_wide = MIN (half_wide, x + wide - 2 - half_x);
      color.alpha = .30f;
      fill (frame, &color, half_x, y, half_wide, WEEKS_BAND);
    }
  if (band->middle >= monday && band->middle < monday + 7)
    fill (frame, &frame->ink.accent, round (column_x (frame->width, band->middle - monday)) - 1, y - 2, 2, WEEKS_BAND + 4);
  room = MAX (12, wide - INSET - 6);
  text_at (frame, width_of (frame, words, SMALL_STRONG) <= room ? words : desk_subject_label (band->subject), SMALL_STRONG,
           &frame->ink.text, x + INSET, y + WEEKS_BAND / 2.0, room);
}

const DeskBand *
app_weeks_band_at (const DeskWeeks *weeks, guint nth, int width, double x, double y)
{
  const DeskWeek *week = g_ptr_array_index (weeks->weeks, nth);
  double day = weeks->from + (double) nth * 7 + x * 7 / width;

  for (guint i = 0; i < week->laid->len; i++)
    {
      const DeskLaid *laid = &g_array_index (week->laid, DeskLaid, i);
      const DeskBand *band = &g_array_index (weeks->bands, DeskBand, laid->band);
      double top = WEEKS_DATE + laid->lane * WEEKS_LANE;

      if (y >= top && y < top + WEEKS_LANE && day >= band->from && day < band->to + 1)
        return band;
    }
  return NULL;
}

/* ---- a week ---- */

static void
draw_days (const AppWeeksFrame *frame, CoreDay monday, const AppWeekBox *box)
{
  double y = week_y (frame, box);
  double signs = y + box->high - WEEKS_FOOT - box->lines * WEEKS_SIGNS;

  for (int i = 0; i < 7; i++)
    {
      CoreDay day = monday + i;
      double x = column_x (frame->width, i);

      if (day == frame->chosen)
        draw_chosen (frame, x, y, column_x (frame->width, i + 1) - x, box->high);
      draw_date (frame, day, x, y);
      draw_signs (frame, desk_weeks_day (frame->weeks, day), day == frame->view->today, box->lines, x, signs);
    }
}

void
app_weeks_draw_week (const AppWeeksFrame *frame, guint nth, const AppWeekBox *box)
{
  const DeskWeek *week = g_ptr_array_index (frame->weeks->weeks, nth);
  CoreDay monday = frame->weeks->from + (CoreDay) nth * 7;
  double y = week_y (frame, box) + WEEKS_DATE;

  draw_days (frame, monday, box);
  for (guint i = 0; i < week->laid->len; i++)
    {
      const DeskLaid *laid = &g_array_index (week->laid, DeskLaid, i);

      draw_band (frame, &g_array_index (frame->weeks->bands, DeskBand, laid->band), monday, y + laid->lane * WEEKS_LANE + 2);
    }
  if (week->more > 0)
    {
      /* Translators: moult ranges of a week for which there is no room; the list of a day names all */
      g_autofree char *more = g_strdup_printf (
        g_dngettext (GETTEXT_PACKAGE, "%u more may moult in this week", "%u more may moult in this week", week->more), week->more);

      text_at (frame, more, SMALL, &frame->ink.dim, INSET, y + week->lanes * WEEKS_LANE + WEEKS_LANE / 2.0, frame->width - 2 * INSET);
    }
  fill (frame, &frame->hair, 0, week_y (frame, box) + box->high - 1, frame->width, 1);
}
