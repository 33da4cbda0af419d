/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-cup.c — the card: measures as one fixed cell and draws its cup standing on the board.
 *
 * One widget, one accessible label that says all that is drawn; nothing inside
 * it can be focused, so forty cups stay forty stops for a screen reader. */
#include "app/app-cup.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-cup-draw.h"
#include "app/app-symbol.h"

struct _AppCup
{
  AppDrawn parent_instance;

  /* Owned */
  AppCupData *data;
  char *mark_letters; /* NULL = no mark */
  char *mark_words;

  gboolean small;
  gboolean chosen;
};

G_DEFINE_FINAL_TYPE (AppCup, app_cup, APP_TYPE_DRAWN)

#define RING 4 /* pixels from a cup to the ring that the keys draw round it */

/* Where things lie inside the cell, pixels from its top left corner. */
typedef struct
{
  double left, right, top, bottom; /* the cup's outline */
  double inset;                    /* text from the left edge */
} CupBox;

void
app_cup_data_free (AppCupData *data)
{
  if (data == NULL)
    return;
  g_free (data->number);
  g_free (data->sex_sign);
  g_free (data->species);
  g_free (data->stage);
  g_free (data->veil_words);
  g_free (data->trouble);
  g_free (data->label);
  g_free (data->stage_brief);
  g_free (data);
}

static void
cup_size (AppCup *self, int *width, int *height)
{
  *width = self->small ? APP_CUP_SMALL_WIDTH : APP_CUP_WIDTH;
  *height = self->small ? APP_CUP_SMALL_HEIGHT : APP_CUP_HEIGHT;
}

static CupBox
cup_box (AppCup *self)
{
  int width, height;
  double share;

  cup_size (self, &width, &height);
  /* The lowest cup must still hold number, kind, a word, meals and bar: 86 % of the cell. */
  share = self->small ? 1 : .86 + .14 * (CLAMP (self->data->cup_height, .4, 1) - .4) / .6;
  return (CupBox) { 1.5, width - 1.5, height - floor (height * share) + 2, height - 1, self->small ? 8 : 13 };
}

static void
outline (cairo_t *cr, const CupBox *box, gboolean notch, gboolean small)
{
  double taper = small ? 2 : 4;
  double r = small ? 4 : 7;
  double cut = notch ? (small ? 8 : 14) : 0;

  cairo_new_path (cr);
  cairo_move_to (cr, box->left, box->top);
  cairo_line_to (cr, box->right - cut, box->top);
  if (cut > 0)
    cairo_line_to (cr, box->right - cut * .02 * taper / 2, box->top + cut);
  else
    cairo_line_to (cr, box->right, box->top);
  cairo_line_to (cr, box->right - taper + .6, box->bottom - r);
  cairo_curve_to (cr, box->right - taper, box->bottom, box->right - taper, box->bottom,
                  box->right - taper - r, box->bottom);
  cairo_line_to (cr, box->left + taper + r, box->bottom);
  cairo_curve_to (cr, box->left + taper, box->bottom, box->left + taper, box->bottom,
                  box->left + taper - .6, box->bottom - r);
  cairo_close_path (cr);
}

static void
draw_veil (cairo_t *cr, const AppInk *ink, const CupBox *box, gboolean small)
{
  GdkRGBA ink_veil = ink->veil;
  double span = (box->right - box->left) + (box->bottom - box->top);

  cairo_save (cr);
  outline (cr, box, FALSE, small);
  cairo_clip (cr);
  ink_veil.alpha = .34f;
  gdk_cairo_set_source_rgba (cr, &ink_veil);
  cairo_set_line_width (cr, 1);
  for (double d = 0; d < span; d += small ? 6 : 7)
    {
      cairo_move_to (cr, box->left + d, box->top);
      cairo_line_to (cr, box->left + d - (box->bottom - box->top), box->bottom);
    }
  cairo_stroke (cr);
  cairo_restore (cr);
}

/* One hangs alone under the lid; of a lot some, as they come. */
static void
draw_mantises (cairo_t *cr, const GdkRGBA *shade, const AppCupData *data, const CupBox *box)
{
  static const struct
  {
    double x, y, size;
  } where[] = { { 34, 0, 1 }, { 62, 0, .8 }, { 18, 16, .7 }, { 48, 22, .75 }, { 76, 14, .6 }, { 30, 38, .6 } };
  double length = CLAMP (data->body, .06, .75) * (box->bottom - box->top) * .62 + 8;

  for (int i = 0; i < MIN (data->n_drawn, (int) G_N_ELEMENTS (where)); i++)
    app_draw_mantis (cr, shade, box->right - where[i].x, box->top + where[i].y,
                     data->n_drawn > 1 ? MIN (length, 26) * where[i].size : length);
}

static void
draw_glass (AppCup *self, cairo_t *cr, const AppInk *ink, const CupBox *box)
{
  gboolean notch = self->data->trouble != NULL;
  GdkRGBA shade = ink->dim;

  outline (cr, box, notch, self->small);
  gdk_cairo_set_source_rgba (cr, &ink->paper);
  cairo_fill (cr);
  if (self->data->veil_words != NULL)
    draw_veil (cr, ink, box, self->small);
  if (!self->small && !isnan (self->data->body))
    {
      shade.alpha = .42f;
      draw_mantises (cr, &shade, self->data, box);
    }
  outline (cr, box, notch, self->small);
  gdk_cairo_set_source_rgba (cr, self->chosen               ? &ink->accent
                                 : notch                    ? &ink->trouble
                                 : self->data->come_forward ? &ink->text
                                                            : &ink->line);
  cairo_set_line_width (cr, self->chosen || self->data->come_forward ? 2 : 1);
  cairo_stroke (cr);
  /* The mesh lid: a dotted line over the rim. */
  cairo_set_line_width (cr, 2);
  cairo_set_dash (cr, (double[]) { 2, 2.4 }, 2, 0);
  gdk_cairo_set_source_rgba (cr, &ink->dim);
  cairo_move_to (cr, box->left, box->top);
  cairo_line_to (cr, box->right - (notch ? (self->small ? 8 : 14) : 0), box->top);
  cairo_stroke (cr);
  cairo_set_dash (cr, NULL, 0, 0);
}

/* The ring of the keys goes round the cup, which is often lower than its cell, and stands on the board. */
static void
draw_ring (cairo_t *cr, const AppInk *ink, const CupBox *cup, gboolean small)
{
  CupBox box = { cup->left - RING, cup->right + RING, cup->top - RING, cup->bottom + 1, cup->inset };

  outline (cr, &box, FALSE, small);
  gdk_cairo_set_source_rgba (cr, &ink->accent);
  cairo_set_line_width (cr, 2);
  cairo_stroke (cr);
}

/* The moult bar lies this far above the bottom, the lozenge above its right end. */
static double
foot_of (AppCup *self, const CupBox *box)
{
  return box->bottom - (self->small ? 8 : 11);
}

static void
lozenge_place (AppCup *self, const CupBox *box, double *x, double *y, double *half)
{
  *half = self->small ? 10 : 13;
  *x = box->right - (self->small ? 17 : 25);
  *y = foot_of (self, box) - (self->small ? 16 : 21);
}

static void
draw_signs (AppCup *self, cairo_t *cr, const AppInk *ink, const CupBox *box)
{
  const AppCupData *data = self->data;
  double foot = foot_of (self, box);
  double width = box->right - box->left - 2 * box->inset;

  if (!self->small)
    {
      gdk_cairo_set_source_rgba (cr, &ink->text);
      for (int i = 0; i < data->n_dots; i++)
        app_draw_dot (cr, box->left + box->inset + 3.5 + 10.5 * i, foot - 17, 3.5, data->dots[i]);
    }
  if (data->has_bar)
    app_draw_moult_bar (cr, ink, box->left + box->inset, foot, width, self->small ? 4 : 6,
                        data->today, data->band_lo, data->band_hi, data->middle);
  if (data->symbol != NULL)
    {
      double x, y, half;

      lozenge_place (self, box, &x, &y, &half);
      app_draw_lozenge (cr, ink, x, y, half, data->overdue);
    }
}

#define TIGHTEST .84 /* of its size is what does not fit made smaller; what is longer still is cut */

static void
set_size (PangoLayout *layout, double size, gboolean bold)
{
  PangoAttrList *attrs = pango_attr_list_new ();

  pango_attr_list_insert (attrs, pango_attr_scale_new (size));
  if (bold)
    pango_attr_list_insert (attrs, pango_attr_weight_new (PANGO_WEIGHT_BOLD));
  pango_attr_list_insert (attrs, pango_attr_font_features_new ("tnum=1"));
  pango_layout_set_attributes (layout, attrs);
  pango_attr_list_unref (attrs);
}

/* Does it fit into the width, made smaller where need be? */
static gboolean
fits (GtkWidget *widget, const char *text, double size, double max_width)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (widget, text);
  int width;

  set_size (layout, size * TIGHTEST, FALSE);
  pango_layout_get_pixel_size (layout, &width, NULL);
  return width + 2 <= max_width; /* hinting makes some sizes a little wider */
}

/* One run of text; returns its width. What is still too wide when made smaller goes on below, where
 * there is a second line. */
static int
draw_text (GtkWidget *widget,
           GtkSnapshot *snapshot,
           const char *text,
           double size,
           gboolean bold,
           const GdkRGBA *color,
           double x,
           double y,
           double max_width,
           int lines)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (widget, text);
  int width, height, lower;

  max_width = MAX (max_width, 8);
  set_size (layout, size, bold);
  pango_layout_get_pixel_size (layout, &width, &height);
  if (width > max_width && (lines == 1 || width * TIGHTEST <= max_width))
    {
      set_size (layout, size * MAX (max_width / (width + 1), TIGHTEST), bold);
      pango_layout_get_pixel_size (layout, NULL, &lower);
      y += (height - lower) * .7; /* on the same line as before */
    }
  pango_layout_set_height (layout, -lines);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_width (layout, (int) (max_width * PANGO_SCALE));
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT ((float) x, (float) y));
  gtk_snapshot_append_layout (snapshot, layout, color);
  gtk_snapshot_restore (snapshot);
  pango_layout_get_pixel_size (layout, &width, NULL);
  return width;
}

/* Beside the number; what is too wide there, the count of a lot, stands below it. */
static void
draw_words_small (AppCup *self, GtkSnapshot *snapshot, const AppInk *ink, const CupBox *box)
{
  const AppCupData *data = self->data;
  GtkWidget *widget = GTK_WIDGET (self);
  double x = box->left + box->inset;
  double room = box->right - box->left - 2 * box->inset;
  int width = draw_text (widget, snapshot, data->number, 1.4, TRUE, &ink->text, x, box->top + 6, room, 1);

  if (fits (widget, data->sex_sign, 1, room - width - 3))
    draw_text (widget, snapshot, data->sex_sign, 1, FALSE, &ink->text, x + width + 3, box->top + 11,
               room - width - 3, 1);
  else
    draw_text (widget, snapshot, data->sex_sign, 1, FALSE, &ink->text, x, box->top + 29,
               data->symbol != NULL ? room - 18 : room, 1);
}

#define ROOM_FOR_STAGE 96 /* pixels of glass: kind and stage in a line each above the meals */
#define ROOM_FOR_NOTE 122 /* and below them what is to be heeded */

/* What it is and how far, below its number: kind and stage in a line each where there is room, in one
 * else; the kind stands first in both. */
static void
draw_kind (AppCup *self, GtkSnapshot *snapshot, const AppInk *ink, const CupBox *box, double x, double room)
{
  const AppCupData *data = self->data;
  GtkWidget *widget = GTK_WIDGET (self);
  const char *note = data->trouble != NULL ? data->trouble : data->veil_words;
  double glass = data->n_drawn == 0 ? G_MAXDOUBLE : box->bottom - box->top;
  g_autofree char *both = data->stage_brief != NULL ? g_strdup_printf ("%s · %s", data->species, data->stage_brief)
                                                    : g_strdup (data->species);
  /* On the third line a note stands beside the lozenge: there it must not be cut. */
  gboolean apart = note == NULL ? glass > ROOM_FOR_STAGE || !fits (widget, both, .95, room)
                                : glass > ROOM_FOR_NOTE && fits (widget, note, 1, data->symbol != NULL ? room - 32 : room);
  double y = box->top + 38;

  apart = apart && data->stage != NULL;
  draw_text (widget, snapshot, apart ? data->species : both, .95, FALSE, &ink->text, x, y, room, 1);
  y += 18;
  if (apart)
    {
      gboolean beside = data->symbol != NULL && glass <= ROOM_FOR_NOTE; /* the lozenge stands there */

      draw_text (widget, snapshot, data->stage, .9, FALSE, &ink->dim, x, y, beside ? room - 32 : room,
                 note == NULL && glass > ROOM_FOR_NOTE ? 2 : 1);
      y += 18;
    }
  if (note != NULL)
    draw_text (widget, snapshot, note, .9, TRUE, data->trouble != NULL ? &ink->trouble : &ink->veil, x, y,
               apart && data->symbol != NULL ? room - 32 : room, 1);
}

static void
draw_words (AppCup *self, GtkSnapshot *snapshot, const AppInk *ink, const CupBox *box)
{
  const AppCupData *data = self->data;
  GtkWidget *widget = GTK_WIDGET (self);
  double x = box->left + box->inset;
  double room = box->right - box->left - 2 * box->inset;
  int width = draw_text (widget, snapshot, data->number, 1.9, TRUE, &ink->text, x, box->top + 6, room, 1);

  draw_text (widget, snapshot, data->sex_sign, 1.25, FALSE, &ink->text, x + width + 5,
             box->top + 13, room - width - 40, 1);
  draw_kind (self, snapshot, ink, box, x, room);
}

/* A label stuck on the lid: over the drawn animal on a full card, at the foot of a small one. */
static void
draw_mark (AppCup *self, GtkSnapshot *snapshot, const AppInk *ink, const CupBox *box)
{
  const char *text = self->small ? self->mark_letters : self->mark_words;
  double pad = self->small ? 5 : 7, height = self->small ? 17 : 21;
  double room = box->right - box->left - 2 * box->inset - (self->small ? 22 : 0);
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), text);
  PangoAttrList *attrs = pango_attr_list_new ();
  GskRoundedRect shape;
  int width, tall;
  double x, y;

  pango_attr_list_insert (attrs, pango_attr_scale_new (self->small ? .85 : .9));
  pango_attr_list_insert (attrs, pango_attr_weight_new (PANGO_WEIGHT_BOLD));
  pango_layout_set_attributes (layout, attrs);
  pango_attr_list_unref (attrs);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_width (layout, (int) ((room - 2 * pad) * PANGO_SCALE));
  pango_layout_get_pixel_size (layout, &width, &tall);
  x = box->left + box->inset - (self->small ? 2 : 3);
  y = self->small ? foot_of (self, box) - 7 - height : box->top + 54;
  gsk_rounded_rect_init_from_rect (&shape,
                                   &GRAPHENE_RECT_INIT ((float) x, (float) y, (float) (width + 2 * pad), (float) height),
                                   (float) (height / 2));
  gtk_snapshot_push_rounded_clip (snapshot, &shape);
  gtk_snapshot_append_color (snapshot, &ink->accent, &shape.bounds);
  gtk_snapshot_pop (snapshot);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT ((float) (x + pad), (float) (y + (height - tall) / 2)));
  gtk_snapshot_append_layout (snapshot, layout, &ink->paper);
  gtk_snapshot_restore (snapshot);
}

static void
app_cup_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  AppCup *self = APP_CUP (widget);
  AppInk ink;
  CupBox box;
  cairo_t *cr;
  int width, height;

  if (self->data == NULL)
    return;
  app_ink_lookup (widget, &ink);
  cup_size (self, &width, &height);
  box = cup_box (self);
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (-RING, -RING, (float) width + 2 * RING,
                                                                 (float) height + 2 * RING));
  if ((gtk_widget_get_state_flags (widget) & GTK_STATE_FLAG_FOCUS_VISIBLE) != 0)
    draw_ring (cr, &ink, &box, self->small);
  draw_glass (self, cr, &ink, &box);
  draw_signs (self, cr, &ink, &box);
  cairo_destroy (cr);
  if (self->data->kind == CORE_SUBJECT_EGGCASE || self->data->kind == CORE_SUBJECT_CULTURE)
    {
      float side = self->small ? 18 : 28; /* above the line that says the kind */
      GdkRGBA faint = ink.dim;

      faint.alpha = .55f;
      app_symbol_snapshot (snapshot, self->data->kind == CORE_SUBJECT_EGGCASE ? "eggcase" : "feed",
                           (float) box.right - side - (self->small ? 6 : 12), (float) box.top + (self->small ? 5 : 7),
                           side, &faint, gtk_widget_get_scale_factor (widget));
    }
  if (self->data->symbol != NULL)
    {
      double x, y, half;

      lozenge_place (self, &box, &x, &y, &half);
      half = self->small ? 6 : 7.5;
      app_symbol_snapshot (snapshot, self->data->symbol, (float) (x - half), (float) (y - half),
                           (float) (2 * half), &ink.on_due, gtk_widget_get_scale_factor (widget));
    }
  if (self->small)
    draw_words_small (self, snapshot, &ink, &box);
  else
    draw_words (self, snapshot, &ink, &box);
  if (self->mark_words != NULL)
    draw_mark (self, snapshot, &ink, &box);
}

static void
app_cup_state_flags_changed (GtkWidget *widget, GtkStateFlags before)
{
  GTK_WIDGET_CLASS (app_cup_parent_class)->state_flags_changed (widget, before);
  if (((before ^ gtk_widget_get_state_flags (widget)) & GTK_STATE_FLAG_FOCUS_VISIBLE) != 0)
    gtk_widget_queue_draw (widget);
}

static void
size (AppDrawn *drawn, GtkOrientation orientation, int *minimum, int *natural)
{
  int width, height;

  cup_size (APP_CUP (drawn), &width, &height);
  *minimum = *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? width : height;
}

static void
app_cup_finalize (GObject *object)
{
  g_clear_pointer (&APP_CUP (object)->data, app_cup_data_free);
  g_clear_pointer (&APP_CUP (object)->mark_letters, g_free);
  g_clear_pointer (&APP_CUP (object)->mark_words, g_free);
  G_OBJECT_CLASS (app_cup_parent_class)->finalize (object);
}

static void
app_cup_class_init (AppCupClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = app_cup_finalize;
  APP_DRAWN_CLASS (klass)->size = size;
  widget_class->snapshot = app_cup_snapshot;
  widget_class->state_flags_changed = app_cup_state_flags_changed;
  gtk_widget_class_set_css_name (widget_class, "cup");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_BUTTON);
}

static void
app_cup_init (AppCup *self)
{
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_halign (GTK_WIDGET (self), GTK_ALIGN_START);
  gtk_widget_set_valign (GTK_WIDGET (self), GTK_ALIGN_END);
}

GtkWidget *
app_cup_new (void)
{
  return g_object_new (APP_TYPE_CUP, NULL);
}

/* A full card shows it all; a small one tells the rest when asked. GTK asks the display for each
 * new text, so forty cups that stay as they are ask nothing. */
static void
set_tooltip (AppCup *self)
{
  const char *text = self->small ? self->data->label : NULL;

  if (g_strcmp0 (gtk_widget_get_tooltip_text (GTK_WIDGET (self)), text) != 0)
    gtk_widget_set_tooltip_text (GTK_WIDGET (self), text);
}

static void
say (AppCup *self)
{
  g_autofree char *label = self->mark_words != NULL
                             /* Translators: all of a cup, and what the round in the making says of it */
                             ? g_strdup_printf (C_ ("cup", "%s; in this round: %s"), self->data->label, self->mark_words)
                             : g_strdup (self->data->label);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

void
app_cup_set_mark (AppCup *self, const char *letters, const char *words)
{
  g_return_if_fail (APP_IS_CUP (self));
  if (letters == NULL)
    words = NULL;
  if (g_strcmp0 (self->mark_letters, letters) == 0 && g_strcmp0 (self->mark_words, words) == 0)
    return;
  g_free (self->mark_letters);
  g_free (self->mark_words);
  self->mark_letters = g_strdup (letters);
  self->mark_words = g_strdup (words);
  if (self->data != NULL)
    say (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
app_cup_set_data (AppCup *self, AppCupData *data)
{
  g_return_if_fail (APP_IS_CUP (self));
  g_return_if_fail (data != NULL);

  g_clear_pointer (&self->data, app_cup_data_free);
  self->data = data;
  say (self);
  set_tooltip (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

const AppCupData *
app_cup_get_data (AppCup *self)
{
  g_return_val_if_fail (APP_IS_CUP (self), NULL);
  return self->data;
}

void
app_cup_set_small (AppCup *self, gboolean small)
{
  g_return_if_fail (APP_IS_CUP (self));
  if (self->small == small)
    return;
  self->small = small;
  if (self->data != NULL)
    set_tooltip (self);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

void
app_cup_set_chosen (AppCup *self, gboolean chosen)
{
  g_return_if_fail (APP_IS_CUP (self));
  if (self->chosen == chosen)
    return;
  self->chosen = chosen;
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_PRESSED,
                               chosen ? GTK_ACCESSIBLE_TRISTATE_TRUE : GTK_ACCESSIBLE_TRISTATE_FALSE, -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
