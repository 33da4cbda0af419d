/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-move-in-table.c — rows, the cell in hand, and the keys; see app-move-in-table.h.
 *
 * Every letter goes into the model at once, so that the draft and what is said of the
 * cell are never behind what stands in the field. */
#include "app/app-move-in-table.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/app-move-in-row.h"

#define PAGE_ROWS 10

struct _AppMoveInTable
{
  AppDrawn parent_instance;

  /* Children, borrowed */
  GPtrArray *rows;   /* the array is owned */
  GtkWidget *editor; /* GtkEntry */

  MoveInModel *model; /* owned */
  gulong model_id;
  guint row;
  MoveInColumn column, begun; /* in hand; where Enter returns to */
  char *before;               /* what stood in the cell when it was taken in hand */
  gboolean filling;           /* the field is set by us */
  gboolean fresh;             /* nothing was done in the cell yet: what is typed takes the place of all */
};

G_DEFINE_FINAL_TYPE (AppMoveInTable, app_move_in_table, APP_TYPE_DRAWN)

enum
{
  MOVED,
  PASTED,
  FULL,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

/* ---- rows ---- */

static AppMoveInRow *
nth (AppMoveInTable *self, guint row)
{
  return row < self->rows->len ? g_ptr_array_index (self->rows, row) : NULL;
}

static void
sync_rows (AppMoveInTable *self)
{
  guint n = move_in_model_n_rows (self->model);

  while (self->rows->len > n)
    {
      gtk_widget_unparent (g_ptr_array_index (self->rows, self->rows->len - 1));
      g_ptr_array_set_size (self->rows, self->rows->len - 1);
    }
  while (self->rows->len < n)
    {
      GtkWidget *row = app_move_in_row_new ();

      gtk_widget_insert_before (row, GTK_WIDGET (self), self->editor);
      g_ptr_array_add (self->rows, row);
    }
  for (guint i = 0; i < n; i++)
    {
      app_move_in_row_update (nth (self, i), self->model, i);
      app_move_in_row_set_current (nth (self, i), i == self->row ? self->column : MOVE_IN_N_COLUMNS);
    }
}

/* ---- the field ---- */

static void
show_text (AppMoveInTable *self)
{
  const char *text = move_in_model_text (self->model, self->row, self->column);

  if (g_str_equal (gtk_editable_get_text (GTK_EDITABLE (self->editor)), text))
    return;
  self->filling = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (self->editor), text);
  self->filling = FALSE;
}

static void
say_wrong (AppMoveInTable *self)
{
  g_autofree char *says = move_in_model_says (self->model, self->row, self->column);
  const char *shown = move_in_model_shown (self->model, self->row, self->column);

  if (says != NULL)
    gtk_widget_add_css_class (self->editor, "wrong");
  else
    gtk_widget_remove_css_class (self->editor, "wrong");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->editor), GTK_ACCESSIBLE_STATE_INVALID,
                               says != NULL ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->editor), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  says != NULL ? says : shown, -1);
}

static void
name_editor (AppMoveInTable *self)
{
  const char *number = move_in_model_shown (self->model, self->row, MOVE_IN_NUMBER);
  g_autofree char *label = NULL;

  /* Translators: name of a column, and the number of a cup: "Species, 14" */
  label = g_strdup_printf (C_ ("move in", "%s, %s"), words_move_in_column (WORDS_LOCAL, self->column),
                           self->column == MOVE_IN_NUMBER ? "" : number);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->editor), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->editor), self->column == MOVE_IN_NUMBER ? number : NULL);
}

static void
model_changed_cb (MoveInModel *model, AppMoveInTable *self)
{
  if (self->row >= move_in_model_n_rows (model))
    self->row = move_in_model_n_rows (model) - 1;
  sync_rows (self);
  show_text (self);
  name_editor (self);
  say_wrong (self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  g_signal_emit (self, signals[MOVED], 0);
}

static void
typed_cb (GtkEditable *editable, AppMoveInTable *self)
{
  if (!self->filling && self->model != NULL)
    move_in_model_set (self->model, self->row, self->column, gtk_editable_get_text (editable));
}

/* ---- moving ---- */

static int
top_of (AppMoveInTable *self, guint row)
{
  int y = 0;

  for (guint i = 0; i < row && i < self->rows->len; i++)
    {
      int height;

      gtk_widget_measure (g_ptr_array_index (self->rows, i), GTK_ORIENTATION_VERTICAL, -1, &height, NULL, NULL, NULL);
      y += height;
    }
  return y;
}

static void
bring_into_view (AppMoveInTable *self)
{
  GtkWidget *scroller = gtk_widget_get_ancestor (GTK_WIDGET (self), GTK_TYPE_SCROLLED_WINDOW);
  GtkAdjustment *adjustment;
  int y = top_of (self, self->row);

  if (scroller == NULL)
    return;
  adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scroller));
  /* A new row is there before the table has grown by it. */
  if (gtk_adjustment_get_upper (adjustment) < y + 2 * APP_MOVE_IN_ROW_HEIGHT)
    gtk_adjustment_set_upper (adjustment, y + 2 * APP_MOVE_IN_ROW_HEIGHT);
  gtk_adjustment_clamp_page (adjustment, y, y + 2 * APP_MOVE_IN_ROW_HEIGHT);
}

static void
select_all (AppMoveInTable *self)
{
  gtk_editable_select_region (GTK_EDITABLE (self->editor), 0, -1);
  self->fresh = TRUE;
}

/* Before the first letter: the selection may be gone, as X takes it from a field that lost and
 * claimed it quickly, and the letter would be added to what stood there. */
static void
write_over (AppMoveInTable *self)
{
  if (self->fresh)
    select_all (self);
  self->fresh = FALSE;
}

static void
take (AppMoveInTable *self, guint row, MoveInColumn column)
{
  self->row = MIN (row, move_in_model_n_rows (self->model) - 1);
  self->column = column;
  g_free (self->before);
  self->before = g_strdup (move_in_model_text (self->model, self->row, column));
  show_text (self);
  /* What was typed in another cell is not undone in this one. */
  gtk_editable_set_enable_undo (GTK_EDITABLE (self->editor), FALSE);
  gtk_editable_set_enable_undo (GTK_EDITABLE (self->editor), TRUE);
  select_all (self);
  name_editor (self);
  say_wrong (self);
  sync_rows (self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  bring_into_view (self);
  g_signal_emit (self, signals[MOVED], 0);
}

static void
leave (AppMoveInTable *self)
{
  move_in_model_settle (self->model, self->row, self->column);
}

static void
go (AppMoveInTable *self, int rows, MoveInColumn column)
{
  guint n = move_in_model_n_rows (self->model);
  int to = (int) self->row + rows;

  leave (self);
  take (self, (guint) CLAMP (to, 0, (int) n - 1), column);
}

/* Down, where typing began; below the last row there is a new one. */
static void
next_row (AppMoveInTable *self)
{
  leave (self);
  if (self->row + 1 == move_in_model_n_rows (self->model) && !move_in_model_append (self->model))
    {
      g_signal_emit (self, signals[FULL], 0);
      return;
    }
  take (self, self->row + 1, self->begun);
}

static void
tab (AppMoveInTable *self, gboolean back)
{
  if (back && self->column == 0 && self->row > 0)
    go (self, -1, MOVE_IN_N_COLUMNS - 1);
  else if (back)
    go (self, 0, self->column > 0 ? self->column - 1 : 0);
  else if (self->column + 1 == MOVE_IN_N_COLUMNS)
    next_row (self);
  else
    go (self, 0, self->column + 1);
}

/* Left and right move in the text once it is being changed, else from cell to cell. */
static gboolean
sideways (AppMoveInTable *self, int step)
{
  GtkEditable *editable = GTK_EDITABLE (self->editor);
  int start = 0, end = 0, position = gtk_editable_get_position (editable);
  int length = (int) g_utf8_strlen (gtk_editable_get_text (editable), -1);
  gboolean all =
    self->fresh || (gtk_editable_get_selection_bounds (editable, &start, &end) && start == 0 && end == length);
  int to = (int) self->column + step;

  if (!all && length > 0 && position != (step < 0 ? 0 : length))
    return GDK_EVENT_PROPAGATE;
  if (to >= 0 && to < MOVE_IN_N_COLUMNS)
    {
      self->begun = (MoveInColumn) to;
      go (self, 0, (MoveInColumn) to);
    }
  return GDK_EVENT_STOP;
}

/* ---- pasting ---- */

static void
clipboard_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppMoveInTable) self = data;
  g_autofree char *text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (source), result, NULL);
  g_autofree char *line = NULL;

  if (text == NULL || self->model == NULL)
    return;
  if (strpbrk (g_strchomp (text), "\t\n") != NULL)
    g_signal_emit (self, signals[PASTED], 0, text);
  else
    {
      int position;

      write_over (self);
      gtk_editable_delete_selection (GTK_EDITABLE (self->editor));
      position = gtk_editable_get_position (GTK_EDITABLE (self->editor));
      gtk_editable_insert_text (GTK_EDITABLE (self->editor), text, -1, &position);
      gtk_editable_set_position (GTK_EDITABLE (self->editor), position);
    }
}

static void
paste (AppMoveInTable *self)
{
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (GTK_WIDGET (self)), NULL, clipboard_cb,
                                 g_object_ref (self));
}

/* ---- keys ---- */

/* What was changed in this cell; where nothing was, back to the page before: all of it is a draft. */
static gboolean
give_up (AppMoveInTable *self)
{
  if (g_str_equal (move_in_model_text (self->model, self->row, self->column), self->before))
    {
      gtk_widget_activate_action (GTK_WIDGET (self), "win.back", NULL);
      return GDK_EVENT_STOP;
    }
  move_in_model_set (self->model, self->row, self->column, self->before);
  select_all (self);
  return GDK_EVENT_STOP;
}

static void
as_above (AppMoveInTable *self)
{
  if (self->row > 0)
    (void) move_in_model_ditto (self->model, self->row, self->column);
  if (self->row + 1 < move_in_model_n_rows (self->model))
    go (self, 1, self->column);
}

static gboolean
control_key (AppMoveInTable *self, guint keyval, gboolean shift)
{
  guint last = move_in_model_n_rows (self->model) - 1;

  switch (gdk_keyval_to_lower (keyval))
    {
    case GDK_KEY_d:
      if (shift)
        (void) move_in_model_fill_down (self->model, self->row, self->column);
      else
        as_above (self);
      return GDK_EVENT_STOP;
    case GDK_KEY_v:
      paste (self);
      return GDK_EVENT_STOP;
    case GDK_KEY_Home:
      go (self, -(int) self->row, self->column);
      return GDK_EVENT_STOP;
    case GDK_KEY_End:
      go (self, (int) last, self->column);
      return GDK_EVENT_STOP;
    case GDK_KEY_Delete:
      move_in_model_remove (self->model, self->row);
      take (self, self->row, self->column);
      return GDK_EVENT_STOP;
    default:
      self->fresh = FALSE;
      return GDK_EVENT_PROPAGATE;
    }
}

static gboolean
plain_key (AppMoveInTable *self, guint keyval, gboolean shift)
{
  switch (keyval)
    {
    case GDK_KEY_Tab:
    case GDK_KEY_KP_Tab:
    case GDK_KEY_ISO_Left_Tab:
      tab (self, shift || keyval == GDK_KEY_ISO_Left_Tab);
      return GDK_EVENT_STOP;
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      if (shift)
        go (self, -1, self->begun);
      else
        next_row (self);
      return GDK_EVENT_STOP;
    case GDK_KEY_Up:
    case GDK_KEY_Down:
      self->begun = self->column;
      go (self, keyval == GDK_KEY_Up ? -1 : 1, self->column);
      return GDK_EVENT_STOP;
    case GDK_KEY_Page_Up:
    case GDK_KEY_Page_Down:
      go (self, keyval == GDK_KEY_Page_Up ? -PAGE_ROWS : PAGE_ROWS, self->column);
      return GDK_EVENT_STOP;
    case GDK_KEY_Left:
    case GDK_KEY_Right:
      if (!shift)
        return sideways (self, keyval == GDK_KEY_Left ? -1 : 1);
      self->fresh = FALSE;
      return GDK_EVENT_PROPAGATE;
    case GDK_KEY_Home:
    case GDK_KEY_End:
      self->fresh = FALSE;
      return GDK_EVENT_PROPAGATE;
    case GDK_KEY_Escape:
      return give_up (self);
    default:
      if (gdk_keyval_to_unicode (keyval) != 0)
        write_over (self);
      return GDK_EVENT_PROPAGATE;
    }
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppMoveInTable *self)
{
  gboolean shift = (state & GDK_SHIFT_MASK) != 0;

  if (self->model == NULL || (state & GDK_ALT_MASK) != 0)
    return GDK_EVENT_PROPAGATE;
  return (state & GDK_CONTROL_MASK) != 0 ? control_key (self, keyval, shift) : plain_key (self, keyval, shift);
}

static void
pressed_cb (GtkGestureClick *gesture, int n_press, double x, double y, AppMoveInTable *self)
{
  int columns[MOVE_IN_N_COLUMNS + 1], row = 0, column = 0;

  if (self->model == NULL)
    return;
  app_move_in_columns (gtk_widget_get_width (GTK_WIDGET (self)), columns);
  while (column + 1 < MOVE_IN_N_COLUMNS && x >= columns[column + 1])
    column++;
  while ((guint) row + 1 < self->rows->len && y >= top_of (self, (guint) row + 1))
    row++;
  app_move_in_table_go (self, (guint) row, (MoveInColumn) column);
}

/* A click in the field sets its caret. */
static void
caret_cb (AppMoveInTable *self)
{
  self->fresh = FALSE;
}

/* ---- layout ---- */

static void
app_move_in_table_size (AppDrawn *drawn, GtkOrientation orientation, int *minimum, int *natural)
{
  AppMoveInTable *self = APP_MOVE_IN_TABLE (drawn);

  *minimum = *natural = 0;
  if (orientation == GTK_ORIENTATION_VERTICAL)
    *minimum = *natural = top_of (self, self->rows->len);
  else if (self->rows->len > 0)
    gtk_widget_measure (g_ptr_array_index (self->rows, 0), orientation, -1, minimum, natural, NULL, NULL);
}

static void
app_move_in_table_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  AppMoveInTable *self = APP_MOVE_IN_TABLE (widget);
  int x[MOVE_IN_N_COLUMNS + 1], y = 0;

  app_move_in_columns (width, x);
  for (guint i = 0; i < self->rows->len; i++)
    {
      GtkWidget *row = g_ptr_array_index (self->rows, i);
      int tall;

      gtk_widget_measure (row, GTK_ORIENTATION_VERTICAL, -1, &tall, NULL, NULL, NULL);
      gtk_widget_size_allocate (row, &(GtkAllocation) { 0, y, width, tall }, -1);
      if (i == self->row)
        {
          GtkAllocation where = { x[self->column], y, x[self->column + 1] - x[self->column],
                                  APP_MOVE_IN_ROW_HEIGHT - 1 };

          /* It must be measured before it may be allocated. */
          for (int way = 0; way < 2; way++)
            gtk_widget_measure (self->editor, way == 0 ? GTK_ORIENTATION_HORIZONTAL : GTK_ORIENTATION_VERTICAL, -1,
                                NULL, NULL, NULL, NULL);
          gtk_widget_size_allocate (self->editor, &where, -1);
        }
      y += tall;
    }
}

/* ---- object ---- */

static void
drop_model (AppMoveInTable *self)
{
  if (self->model != NULL)
    g_clear_signal_handler (&self->model_id, self->model);
  g_clear_object (&self->model);
}

static void
dispose (GObject *object)
{
  AppMoveInTable *self = APP_MOVE_IN_TABLE (object);

  drop_model (self);
  for (guint i = 0; self->rows != NULL && i < self->rows->len; i++)
    gtk_widget_unparent (g_ptr_array_index (self->rows, i));
  g_clear_pointer (&self->rows, g_ptr_array_unref);
  g_clear_pointer (&self->editor, gtk_widget_unparent);
  g_clear_pointer (&self->before, g_free);
  G_OBJECT_CLASS (app_move_in_table_parent_class)->dispose (object);
}

static void
app_move_in_table_class_init (AppMoveInTableClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  APP_DRAWN_CLASS (klass)->size = app_move_in_table_size;
  widget_class->size_allocate = app_move_in_table_size_allocate;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_TABLE);
  signals[MOVED] = g_signal_new ("moved", APP_TYPE_MOVE_IN_TABLE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[PASTED] = g_signal_new ("pasted", APP_TYPE_MOVE_IN_TABLE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[FULL] = g_signal_new ("full", APP_TYPE_MOVE_IN_TABLE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
app_move_in_table_init (AppMoveInTable *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkGesture *click = gtk_gesture_click_new ();
  GtkGesture *caret = gtk_gesture_click_new ();

  self->rows = g_ptr_array_new ();
  self->editor = gtk_entry_new ();
  gtk_entry_set_max_length (GTK_ENTRY (self->editor), 200);
  gtk_entry_set_has_frame (GTK_ENTRY (self->editor), FALSE);
  gtk_editable_set_width_chars (GTK_EDITABLE (self->editor), 1);
  gtk_widget_add_css_class (self->editor, "cell");
  gtk_widget_set_visible (self->editor, FALSE);
  gtk_widget_set_parent (self->editor, GTK_WIDGET (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  C_ ("move in", "Animals that move in"), -1);
  /* Before the field sees a key: Tab, Enter and arrows are of the table. */
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_widget_add_controller (self->editor, keys);
  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (caret), GTK_PHASE_CAPTURE);
  g_signal_connect_object (caret, "pressed", G_CALLBACK (caret_cb), self, G_CONNECT_SWAPPED);
  gtk_widget_add_controller (self->editor, GTK_EVENT_CONTROLLER (caret));
  g_signal_connect_object (self->editor, "changed", G_CALLBACK (typed_cb), self, 0);
  g_signal_connect_object (click, "pressed", G_CALLBACK (pressed_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
}

void
app_move_in_table_set_model (AppMoveInTable *self, MoveInModel *model)
{
  g_return_if_fail (APP_IS_MOVE_IN_TABLE (self));

  drop_model (self);
  gtk_widget_set_visible (self->editor, model != NULL); /* it stands on a row, or nowhere */
  if (model == NULL)
    return;
  self->model = g_object_ref (model);
  self->model_id = g_signal_connect (model, "changed", G_CALLBACK (model_changed_cb), self);
  self->begun = MOVE_IN_PLACE;
  take (self, 0, MOVE_IN_PLACE);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

guint
app_move_in_table_row (AppMoveInTable *self)
{
  g_return_val_if_fail (APP_IS_MOVE_IN_TABLE (self), 0);
  return self->row;
}

MoveInColumn
app_move_in_table_column (AppMoveInTable *self)
{
  g_return_val_if_fail (APP_IS_MOVE_IN_TABLE (self), MOVE_IN_PLACE);
  return self->column;
}

void
app_move_in_table_go (AppMoveInTable *self, guint row, MoveInColumn column)
{
  g_return_if_fail (APP_IS_MOVE_IN_TABLE (self));
  g_return_if_fail (self->model != NULL && column < MOVE_IN_N_COLUMNS);

  leave (self);
  self->begun = column;
  take (self, row, column);
  gtk_widget_grab_focus (self->editor);
}

void
app_move_in_table_mend (AppMoveInTable *self, guint row, MoveInColumn column)
{
  MoveInColumn begun;

  g_return_if_fail (APP_IS_MOVE_IN_TABLE (self));
  begun = self->begun;
  app_move_in_table_go (self, row, column);
  self->begun = begun;
  g_signal_emit (self, signals[MOVED], 0);
}

MoveInColumn
app_move_in_table_begun (AppMoveInTable *self)
{
  g_return_val_if_fail (APP_IS_MOVE_IN_TABLE (self), MOVE_IN_PLACE);
  return self->begun;
}

void
app_move_in_table_focus (AppMoveInTable *self)
{
  g_return_if_fail (APP_IS_MOVE_IN_TABLE (self));
  gtk_widget_grab_focus (self->editor);
  if (self->model != NULL)
    select_all (self);
}
