/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-move-in-row.c — draws one row; see app-move-in-row.h. */
#include "app/app-move-in-row.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/app-cup-draw.h"

#define PAD 9        /* of the text in its cell */
#define NOTE_HEIGHT 21 /* the line under a row that says what is wrong */

typedef struct
{
  char *text;
  gboolean faint, wrong, fresh; /* given by the program; not understood; a place to be made */
} Cell;

struct _AppMoveInRow
{
  AppDrawn parent_instance;

  Cell cells[MOVE_IN_N_COLUMNS];
  char *notes[MOVE_IN_N_COLUMNS]; /* what is wrong with the cell; NULL = nothing */
  MoveInColumn current;
  char *label;
  guint flags; /* with the label: all that is drawn */
  gboolean counts;
};

G_DEFINE_FINAL_TYPE (AppMoveInRow, app_move_in_row, APP_TYPE_DRAWN)

void
app_move_in_columns (int width, int x[MOVE_IN_N_COLUMNS + 1])
{
  /* Place, order, number, species, stage, sex, last moult, last fed. */
  static const int wide[MOVE_IN_N_COLUMNS] = { 210, 72, 90, 330, 120, 138, 180, 178 };
  static const int narrow[MOVE_IN_N_COLUMNS] = { 90, 48, 66, 156, 72, 72, 84, 84 };
  int most = 0, least = 0;
  double share;

  for (int i = 0; i < MOVE_IN_N_COLUMNS; i++)
    {
      most += wide[i];
      least += narrow[i];
    }
  share = CLAMP ((width - least) / (double) (most - least), 0, 1);
  x[0] = 0;
  for (int i = 0; i < MOVE_IN_N_COLUMNS; i++)
    x[i + 1] = x[i] + narrow[i] + (int) ((wide[i] - narrow[i]) * share);
}

/* ---- what it says ---- */

static void
read_cell (AppMoveInRow *self, MoveInModel *model, guint row, MoveInColumn column)
{
  Cell *cell = &self->cells[column];
  const char *typed = move_in_model_text (model, row, column);

  g_free (cell->text);
  cell->wrong = move_in_model_problem (model, row, column) != MOVE_IN_OK;
  cell->faint = column == MOVE_IN_NUMBER && typed[0] == '\0';
  /* Said once, above the rows that it is carried down to. */
  cell->fresh = column == MOVE_IN_PLACE && !cell->wrong && move_in_model_new_place (model, row)
                && (row == 0 || !g_str_equal (move_in_model_shown (model, row - 1, column),
                                              move_in_model_shown (model, row, column)));
  cell->text = g_strdup (cell->wrong && typed[0] != '\0' ? typed : move_in_model_shown (model, row, column));
  g_free (self->notes[column]);
  self->notes[column] = cell->wrong ? move_in_model_says (model, row, column) : NULL;
}

static int
n_notes (AppMoveInRow *self)
{
  int n = 0;

  for (int i = 0; i < MOVE_IN_N_COLUMNS; i++)
    n += self->notes[i] != NULL ? 1 : 0;
  return n;
}

static char *
make_label (AppMoveInRow *self)
{
  g_autoptr (GString) label = g_string_new (self->cells[MOVE_IN_NUMBER].text);

  for (int i = 0; i < MOVE_IN_N_COLUMNS; i++)
    if (i != MOVE_IN_NUMBER && self->cells[i].text[0] != '\0')
      g_string_append_printf (label, ", %s %s%s", words_move_in_column (WORDS_LOCAL, (MoveInColumn) i),
                              self->cells[i].text, self->cells[i].fresh ? C_ ("move in", " (new)") : "");
  for (int i = 0; i < MOVE_IN_N_COLUMNS; i++)
    if (self->notes[i] != NULL)
      g_string_append_printf (label, ". %s", self->notes[i]);
  return g_string_free (g_steal_pointer (&label), FALSE);
}

void
app_move_in_row_update (AppMoveInRow *self, MoveInModel *model, guint row)
{
  int before = n_notes (self);
  g_autofree char *label = NULL;
  guint flags;

  g_return_if_fail (APP_IS_MOVE_IN_ROW (self));

  self->counts = move_in_model_counts (model, row);
  for (int i = 0; i < MOVE_IN_N_COLUMNS; i++)
    read_cell (self, model, row, (MoveInColumn) i);
  label = make_label (self);
  flags = (guint) self->counts;
  for (int i = 0; i < MOVE_IN_N_COLUMNS; i++)
    flags = flags * 4 + (guint) self->cells[i].faint * 2 + (guint) self->cells[i].wrong;
  if (g_strcmp0 (label, self->label) == 0 && flags == self->flags)
    return;
  self->flags = flags;
  if (before != n_notes (self))
    gtk_widget_queue_resize (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_free (self->label);
  self->label = g_steal_pointer (&label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, self->label, -1);
}

void
app_move_in_row_set_current (AppMoveInRow *self, MoveInColumn column)
{
  g_return_if_fail (APP_IS_MOVE_IN_ROW (self));
  if (self->current == column)
    return;
  self->current = column;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* ---- drawing ---- */

/* One line of text, cut where it does not fit; its width. */
static int
draw_text (GtkWidget *widget,
           GtkSnapshot *snapshot,
           const char *text,
           double size,
           const GdkRGBA *color,
           int x,
           int y,
           int height,
           int room)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (widget, text);
  PangoAttrList *attrs = pango_attr_list_new ();
  int width, text_height;

  pango_attr_list_insert (attrs, pango_attr_scale_new (size));
  pango_attr_list_insert (attrs, pango_attr_font_features_new ("tnum=1"));
  pango_layout_set_attributes (layout, attrs);
  pango_attr_list_unref (attrs);
  pango_layout_set_single_paragraph_mode (layout, TRUE);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_width (layout, MAX (room, 6) * PANGO_SCALE);
  pango_layout_get_pixel_size (layout, &width, &text_height);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT ((float) x, (float) (y + (height - text_height) / 2)));
  gtk_snapshot_append_layout (snapshot, layout, color);
  gtk_snapshot_restore (snapshot);
  return width;
}

static void
draw_cell (AppMoveInRow *self, GtkSnapshot *snapshot, const AppInk *ink, const int *x, MoveInColumn column)
{
  GtkWidget *widget = GTK_WIDGET (self);
  const Cell *cell = &self->cells[column];
  int room = x[column + 1] - x[column] - PAD - 3;
  const GdkRGBA *color = cell->wrong ? &ink->trouble : cell->faint || !self->counts ? &ink->dim : &ink->text;
  int width;

  if (self->current != column && cell->text[0] != '\0')
    {
      width = draw_text (widget, snapshot, cell->text, 1, color, x[column] + PAD, 0, APP_MOVE_IN_ROW_HEIGHT, room);
      if (cell->fresh && width + 36 < room)
        (void) draw_text (widget, snapshot, C_ ("move in", " (new)"), .87, &ink->dim, x[column] + PAD + width, 1,
                          APP_MOVE_IN_ROW_HEIGHT, room - width);
    }
  if (cell->wrong) /* by shape, too: a stroke under the cell */
    gtk_snapshot_append_color (snapshot, &ink->trouble,
                               &GRAPHENE_RECT_INIT ((float) (x[column] + PAD), APP_MOVE_IN_ROW_HEIGHT - 4,
                                                    (float) (room - PAD), 2));
}

/* One under the other: each stands under its cell as far as there is room. */
static void
draw_note (AppMoveInRow *self, GtkSnapshot *snapshot, const AppInk *ink, const int *x, MoveInColumn column, int y)
{
  int width = gtk_widget_get_width (GTK_WIDGET (self));
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), self->notes[column]);
  PangoAttrList *attrs = pango_attr_list_new ();
  int from = x[column] + PAD, wide;

  pango_attr_list_insert (attrs, pango_attr_scale_new (.87));
  pango_layout_set_attributes (layout, attrs);
  pango_attr_list_unref (attrs);
  pango_layout_get_pixel_size (layout, &wide, NULL);
  from = CLAMP (from, PAD, MAX (PAD, width - wide - PAD));
  (void) draw_text (GTK_WIDGET (self), snapshot, self->notes[column], .87, &ink->trouble, from, y, NOTE_HEIGHT,
                    width - from - PAD);
}

static void
app_move_in_row_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  AppMoveInRow *self = APP_MOVE_IN_ROW (widget);
  int x[MOVE_IN_N_COLUMNS + 1], width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  int y = APP_MOVE_IN_ROW_HEIGHT - 3;
  AppInk ink;
  GdkRGBA hair, tint;

  app_ink_lookup (widget, &ink);
  app_move_in_columns (width, x);
  tint = ink.accent;
  tint.alpha = .07f;
  if (self->current != MOVE_IN_N_COLUMNS)
    gtk_snapshot_append_color (snapshot, &tint, &GRAPHENE_RECT_INIT (0, 0, (float) x[MOVE_IN_N_COLUMNS], (float) height));
  if (!gtk_style_context_lookup_color (gtk_widget_get_style_context (widget), "hairline", &hair))
    hair = ink.line;
  gtk_snapshot_append_color (snapshot, &hair,
                             &GRAPHENE_RECT_INIT (0, (float) height - 1, (float) x[MOVE_IN_N_COLUMNS], 1));
  for (int i = 0; i < MOVE_IN_N_COLUMNS; i++)
    draw_cell (self, snapshot, &ink, x, (MoveInColumn) i);
  for (int i = 0; i < MOVE_IN_N_COLUMNS; i++)
    if (self->notes[i] != NULL)
      {
        draw_note (self, snapshot, &ink, x, (MoveInColumn) i, y);
        y += NOTE_HEIGHT;
      }
}

static void
app_move_in_row_size (AppDrawn *drawn, GtkOrientation orientation, int *minimum, int *natural)
{
  int x[MOVE_IN_N_COLUMNS + 1];

  if (orientation == GTK_ORIENTATION_VERTICAL)
    {
      *minimum = *natural = APP_MOVE_IN_ROW_HEIGHT + n_notes (APP_MOVE_IN_ROW (drawn)) * NOTE_HEIGHT;
      return;
    }
  app_move_in_columns (0, x);
  *minimum = x[MOVE_IN_N_COLUMNS];
  app_move_in_columns (G_MAXINT / 2, x);
  *natural = x[MOVE_IN_N_COLUMNS];
}

/* ---- object ---- */

static void
finalize (GObject *object)
{
  AppMoveInRow *self = APP_MOVE_IN_ROW (object);

  for (int i = 0; i < MOVE_IN_N_COLUMNS; i++)
    {
      g_free (self->cells[i].text);
      g_free (self->notes[i]);
    }
  g_free (self->label);
  G_OBJECT_CLASS (app_move_in_row_parent_class)->finalize (object);
}

static void
app_move_in_row_class_init (AppMoveInRowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = finalize;
  APP_DRAWN_CLASS (klass)->size = app_move_in_row_size;
  widget_class->snapshot = app_move_in_row_snapshot;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_ROW);
}

static void
app_move_in_row_init (AppMoveInRow *self)
{
  self->current = MOVE_IN_N_COLUMNS;
  for (int i = 0; i < MOVE_IN_N_COLUMNS; i++)
    self->cells[i].text = g_strdup ("");
}

GtkWidget *
app_move_in_row_new (void)
{
  return g_object_new (APP_TYPE_MOVE_IN_ROW, NULL);
}
