/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-boards.c — lays cups out in rows and draws a board under each row. */
#include "app/app-boards.h"

#include <math.h>

#include "app/app-cup-draw.h"
#include "app/app-widgets.h"

#define GAP 12
#define BOARD 16         /* the plank and its brackets */
#define FULL_LIMIT 24    /* more cups than this on a shelf: small cards */

struct _AppBoards
{
  GtkWidget parent_instance;

  /* Borrowed: children */
  GPtrArray *cups; /* the array is owned, the AppCup are children */
  AppCup *chosen;

  gboolean round; /* a round is made on the cups */
  AppCupSize size;
  int columns, width; /* of the last allocation */
  guint show_id;
};

G_DEFINE_FINAL_TYPE (AppBoards, app_boards, GTK_TYPE_WIDGET)

enum
{
  CHOSEN,
  OPENED,
  MOVED,
  MET,
  PICKED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static gboolean
is_small (AppBoards *self)
{
  if (self->size == APP_SIZE_BY_NUMBER)
    return self->cups->len > FULL_LIMIT;
  return self->size == APP_SIZE_SMALL;
}

static int
cell_width (AppBoards *self)
{
  return is_small (self) ? APP_CUP_SMALL_WIDTH : APP_CUP_WIDTH;
}

static int
cell_height (AppBoards *self)
{
  return is_small (self) ? APP_CUP_SMALL_HEIGHT : APP_CUP_HEIGHT;
}

static int
columns_for (AppBoards *self, int width)
{
  return MAX (1, (width - GAP) / (cell_width (self) + GAP));
}

/* As many rows as the width asks for; else what does not fit could not be scrolled to. */
static GtkSizeRequestMode
app_boards_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
app_boards_measure (GtkWidget *widget,
                    GtkOrientation orientation,
                    int for_size,
                    int *minimum,
                    int *natural,
                    int *minimum_baseline,
                    int *natural_baseline)
{
  AppBoards *self = APP_BOARDS (widget);
  int n = (int) self->cups->len;

  *minimum_baseline = *natural_baseline = -1;
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = cell_width (self) + 2 * GAP;
      *natural = MAX (*minimum, MIN (n, 7) * (cell_width (self) + GAP) + GAP);
    }
  else
    {
      int columns = for_size < 0 ? MAX (1, n) : columns_for (self, for_size);
      int rows = MAX (1, (n + columns - 1) / columns);

      *minimum = *natural = rows * (cell_height (self) + BOARD);
    }
}

/* ---- in sight ---- */

static AppCup *
focused_cup (AppBoards *self)
{
  GtkWidget *focus = gtk_widget_get_focus_child (GTK_WIDGET (self));

  return focus != NULL ? APP_CUP (focus) : NULL;
}

/* The page scrolls to the cup that has the focus, once the rows stand. */
static gboolean
show_cb (gpointer data)
{
  AppBoards *self = data;
  AppCup *cup = focused_cup (self);
  GtkWidget *scroller = gtk_widget_get_ancestor (GTK_WIDGET (self), GTK_TYPE_SCROLLED_WINDOW);
  double x, y;

  self->show_id = 0;
  if (cup != NULL && scroller != NULL
      && gtk_widget_translate_coordinates (GTK_WIDGET (cup), scroller, 0, 0, &x, &y))
    {
      GtkAdjustment *adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scroller));
      double top = y + gtk_adjustment_get_value (adjustment);

      gtk_adjustment_clamp_page (adjustment, top, top + gtk_widget_get_height (GTK_WIDGET (cup)) + BOARD);
    }
  return G_SOURCE_REMOVE;
}

/* After the layout that is on its way: a story that opens takes room, and the rows move. */
void
app_boards_show_focus (AppBoards *self)
{
  g_return_if_fail (APP_IS_BOARDS (self));
  if (self->show_id == 0)
    self->show_id = g_idle_add (show_cb, self);
}

static void
app_boards_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  AppBoards *self = APP_BOARDS (widget);
  int row_height = cell_height (self) + BOARD;

  if (self->width != width) /* the rows move, and what stands above them wraps anew */
    app_boards_show_focus (self);
  self->width = width;
  self->columns = columns_for (self, width);
  for (guint i = 0; i < self->cups->len; i++)
    {
      GtkWidget *cup = g_ptr_array_index (self->cups, i);
      int column = (int) i % self->columns;
      GtkAllocation where = { GAP / 2 + column * (cell_width (self) + GAP),
                              (int) i / self->columns * row_height,
                              cell_width (self), cell_height (self) };

      if (gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL)
        where.x = width - where.x - where.width;
      gtk_widget_size_allocate (cup, &where, -1);
    }
}

static void
draw_board (cairo_t *cr, const GdkRGBA *wood, int width, double y)
{
  GdkRGBA bracket = *wood;

  gdk_cairo_set_source_rgba (cr, wood);
  cairo_rectangle (cr, 0, y, width, 5);
  cairo_fill (cr);
  bracket.alpha = .45f;
  gdk_cairo_set_source_rgba (cr, &bracket);
  for (int side = 0; side < 2; side++)
    {
      double x = side == 0 ? 18 : width - 18;
      double d = side == 0 ? 13 : -13;

      cairo_move_to (cr, x, y + 5);
      cairo_line_to (cr, x + d, y + 5);
      cairo_line_to (cr, x, y + 13);
      cairo_close_path (cr);
    }
  cairo_fill (cr);
}

static void
app_boards_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  AppBoards *self = APP_BOARDS (widget);
  int width = gtk_widget_get_width (widget);
  int row_height = cell_height (self) + BOARD;
  int rows = self->columns > 0 ? ((int) self->cups->len + self->columns - 1) / self->columns : 0;
  GdkRGBA wood;

  if (!gtk_style_context_lookup_color (gtk_widget_get_style_context (widget), "wood", &wood))
    (void) gdk_rgba_parse (&wood, "#8d8672");
  for (int row = 0; row < rows; row++)
    {
      float y = (float) (row * row_height + cell_height (self));
      cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, y, (float) width, BOARD));

      draw_board (cr, &wood, width, y);
      cairo_destroy (cr);
    }
  for (guint i = 0; i < self->cups->len; i++)
    gtk_widget_snapshot_child (widget, g_ptr_array_index (self->cups, i), snapshot);
}

static guint
index_of (AppBoards *self, AppCup *cup)
{
  guint index = 0;

  if (cup == NULL || !g_ptr_array_find (self->cups, cup, &index))
    return G_MAXUINT;
  return index;
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppBoards *self)
{
  AppCup *focus = focused_cup (self);
  guint index = index_of (self, focus);
  int to;

  if (index == G_MAXUINT || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return GDK_EVENT_PROPAGATE;
  to = (int) index;
  switch (keyval)
    {
    case GDK_KEY_Left: to--; break;
    case GDK_KEY_Right: to++; break;
    case GDK_KEY_Up: to -= self->columns; break;
    case GDK_KEY_Down: to += self->columns; break;
    case GDK_KEY_Home: to = 0; break;
    case GDK_KEY_End: to = (int) self->cups->len - 1; break;
    case GDK_KEY_space:
      if (self->round)
        return GDK_EVENT_PROPAGATE;
      app_boards_choose (self, focus == self->chosen ? NULL : focus);
      return GDK_EVENT_STOP;
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      if (self->round)
        return GDK_EVENT_PROPAGATE;
      g_signal_emit (self, signals[OPENED], 0, focus);
      return GDK_EVENT_STOP;
    default:
      return GDK_EVENT_PROPAGATE;
    }
  if (to < 0 || to >= (int) self->cups->len)
    return GDK_EVENT_PROPAGATE;
  gtk_widget_grab_focus (g_ptr_array_index (self->cups, to));
  if (self->chosen != NULL)
    app_boards_choose (self, g_ptr_array_index (self->cups, to));
  return GDK_EVENT_STOP;
}

static void
pressed_cb (GtkGestureClick *gesture, int n_press, double x, double y, AppBoards *self)
{
  GtkWidget *hit = gtk_widget_pick (GTK_WIDGET (self), x, y, GTK_PICK_DEFAULT);

  if (hit == NULL || !APP_IS_CUP (hit))
    return;
  gtk_widget_grab_focus (hit);
  if (self->round)
    g_signal_emit (self, signals[PICKED], 0, hit);
  else if (n_press == 2)
    g_signal_emit (self, signals[OPENED], 0, hit);
  else
    app_boards_choose (self, APP_CUP (hit));
}

static GdkContentProvider *
drag_prepare_cb (GtkDragSource *source, double x, double y, AppBoards *self)
{
  GtkWidget *hit = gtk_widget_pick (GTK_WIDGET (self), x, y, GTK_PICK_DEFAULT);
  g_autoptr (GdkPaintable) picture = NULL;

  if (self->round || hit == NULL || !APP_IS_CUP (hit))
    return NULL;
  picture = gtk_widget_paintable_new (hit);
  gtk_drag_source_set_icon (source, picture, 20, 20);
  return gdk_content_provider_new_typed (APP_TYPE_CUP, hit);
}

/* The cup before which something dropped at (x, y) is to stand; NULL = at the end. */
static AppCup *
cup_after (AppBoards *self, double x, double y)
{
  int row = (int) (y / (cell_height (self) + BOARD));
  int column = (int) ((x - GAP / 2 + cell_width (self) / 2.0) / (cell_width (self) + GAP));
  guint index = (guint) (row * self->columns + CLAMP (column, 0, self->columns));

  return index < self->cups->len ? g_ptr_array_index (self->cups, index) : NULL;
}

/* The cup on whose middle something was dropped: its left and right quarter mean the gap there. */
static AppCup *
cup_met (AppBoards *self, double x, double y)
{
  GtkWidget *hit = gtk_widget_pick (GTK_WIDGET (self), x, y, GTK_PICK_DEFAULT);
  double in_x, in_y;

  if (hit == NULL || !APP_IS_CUP (hit)
      || !gtk_widget_translate_coordinates (GTK_WIDGET (self), hit, x, y, &in_x, &in_y))
    return NULL;
  return fabs (in_x / cell_width (self) - .5) < .25 ? APP_CUP (hit) : NULL;
}

static gboolean
drop_cb (GtkDropTarget *target, const GValue *value, double x, double y, AppBoards *self)
{
  AppCup *cup = g_value_get_object (value);
  AppCup *before = cup_after (self, x, y);
  AppCup *met = cup_met (self, x, y);

  if (cup == NULL || index_of (self, cup) == G_MAXUINT || met == cup || (met == NULL && before == cup))
    return FALSE;
  if (met != NULL)
    {
      g_signal_emit (self, signals[MET], 0, cup, met);
      return TRUE;
    }
  g_signal_emit (self, signals[MOVED], 0, cup, before);
  return TRUE;
}

static void
app_boards_dispose (GObject *object)
{
  AppBoards *self = APP_BOARDS (object);

  self->chosen = NULL;
  g_clear_handle_id (&self->show_id, g_source_remove);
  app_unparent_all (self);
  g_clear_pointer (&self->cups, g_ptr_array_unref);
  G_OBJECT_CLASS (app_boards_parent_class)->dispose (object);
}

static void
app_boards_class_init (AppBoardsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = app_boards_dispose;
  widget_class->get_request_mode = app_boards_request_mode;
  widget_class->measure = app_boards_measure;
  widget_class->size_allocate = app_boards_size_allocate;
  widget_class->snapshot = app_boards_snapshot;
  gtk_widget_class_set_css_name (widget_class, "boards");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);

  signals[CHOSEN] = g_signal_new ("chosen", APP_TYPE_BOARDS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 1, APP_TYPE_CUP);
  signals[OPENED] = g_signal_new ("opened", APP_TYPE_BOARDS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 1, APP_TYPE_CUP);
  signals[MOVED] = g_signal_new ("moved", APP_TYPE_BOARDS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 2, APP_TYPE_CUP, APP_TYPE_CUP);
  signals[MET] = g_signal_new ("met", APP_TYPE_BOARDS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                               G_TYPE_NONE, 2, APP_TYPE_CUP, APP_TYPE_CUP);
  signals[PICKED] = g_signal_new ("picked", APP_TYPE_BOARDS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 1, APP_TYPE_CUP);
}

static void
app_boards_init (AppBoards *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkGesture *click = gtk_gesture_click_new ();
  GtkDragSource *source = gtk_drag_source_new ();
  GtkDropTarget *target = gtk_drop_target_new (APP_TYPE_CUP, GDK_ACTION_MOVE);

  self->cups = g_ptr_array_new ();
  self->columns = 1;
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  g_signal_connect (click, "pressed", G_CALLBACK (pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
  gtk_drag_source_set_actions (source, GDK_ACTION_MOVE);
  g_signal_connect (source, "prepare", G_CALLBACK (drag_prepare_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (source));
  g_signal_connect (target, "drop", G_CALLBACK (drop_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (target));
}

GtkWidget *
app_boards_new (void)
{
  return g_object_new (APP_TYPE_BOARDS, NULL);
}

AppCup *
app_boards_find (AppBoards *self, CoreId id)
{
  g_return_val_if_fail (APP_IS_BOARDS (self), NULL);
  for (guint i = 0; i < self->cups->len; i++)
    if (core_id_equal (app_cup_get_data (g_ptr_array_index (self->cups, i))->id, id))
      return g_ptr_array_index (self->cups, i);
  return NULL;
}

AppCup *
app_boards_find_number (AppBoards *self, const char *number)
{
  g_return_val_if_fail (APP_IS_BOARDS (self), NULL);
  for (guint i = 0; i < self->cups->len; i++)
    if (g_ascii_strcasecmp (app_cup_get_data (g_ptr_array_index (self->cups, i))->number, number) == 0)
      return g_ptr_array_index (self->cups, i);
  return NULL;
}

void
app_boards_set_cups (AppBoards *self, GPtrArray *cups)
{
  g_autoptr (GPtrArray) kept = g_ptr_array_new ();
  GtkWidget *previous = NULL;

  g_return_if_fail (APP_IS_BOARDS (self));
  for (guint i = 0; i < cups->len; i++)
    {
      AppCupData *data = g_ptr_array_index (cups, i);
      AppCup *cup = app_boards_find (self, data->id);

      if (cup == NULL)
        cup = APP_CUP (app_cup_new ());
      else
        g_ptr_array_remove (self->cups, cup);
      app_cup_set_data (cup, data);
      g_ptr_array_add (kept, cup);
    }
  for (guint i = 0; i < self->cups->len; i++) /* no longer on this shelf */
    {
      if (g_ptr_array_index (self->cups, i) == self->chosen)
        self->chosen = NULL;
      gtk_widget_unparent (g_ptr_array_index (self->cups, i));
    }
  g_clear_pointer (&self->cups, g_ptr_array_unref);
  self->cups = g_steal_pointer (&kept);
  for (guint i = 0; i < self->cups->len; i++)
    {
      GtkWidget *cup = g_ptr_array_index (self->cups, i);

      app_cup_set_small (APP_CUP (cup), is_small (self));
      gtk_widget_insert_after (cup, GTK_WIDGET (self), previous);
      previous = cup;
    }
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

guint
app_boards_n_cups (AppBoards *self)
{
  g_return_val_if_fail (APP_IS_BOARDS (self), 0);
  return self->cups->len;
}

void
app_boards_choose (AppBoards *self, AppCup *cup)
{
  g_return_if_fail (APP_IS_BOARDS (self));
  if (self->chosen == cup)
    return;
  if (self->chosen != NULL)
    app_cup_set_chosen (self->chosen, FALSE);
  self->chosen = cup;
  if (cup != NULL)
    app_cup_set_chosen (cup, TRUE);
  g_signal_emit (self, signals[CHOSEN], 0, cup);
}

AppCup *
app_boards_chosen (AppBoards *self)
{
  g_return_val_if_fail (APP_IS_BOARDS (self), NULL);
  return self->chosen;
}

void
app_boards_set_size (AppBoards *self, AppCupSize size)
{
  g_return_if_fail (APP_IS_BOARDS (self));
  self->size = size;
  for (guint i = 0; i < self->cups->len; i++)
    app_cup_set_small (g_ptr_array_index (self->cups, i), is_small (self));
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

void
app_boards_set_round (AppBoards *self, gboolean round)
{
  g_return_if_fail (APP_IS_BOARDS (self));
  self->round = round;
  if (round)
    app_boards_choose (self, NULL);
}

AppCup *
app_boards_nth (AppBoards *self, guint i)
{
  g_return_val_if_fail (APP_IS_BOARDS (self) && i < self->cups->len, NULL);
  return g_ptr_array_index (self->cups, i);
}

AppCup *
app_boards_first (AppBoards *self)
{
  g_return_val_if_fail (APP_IS_BOARDS (self), NULL);
  return self->cups->len > 0 ? g_ptr_array_index (self->cups, 0) : NULL;
}
