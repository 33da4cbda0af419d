/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-calendar-page.c — the days to come as a list, grouped by what the hand holds.
 *
 * A row is a task of one animal with its reason. Space marks it done, P puts it
 * off to tomorrow, Return opens the animal; each writes one entry that Ctrl+Z
 * takes back. What is held back stands below the tasks of today. */
#include "app/app-calendar-page.h"

#include <glib/gi18n.h>

#include "app/app-calendar-later.h"
#include "app/app-drop-down.h"
#include "app/app-symbol.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-window.h"

#define FIRST_DAYS 7
#define MORE_DAYS 7
#define MAX_DAYS 28 /* the desk plans four weeks */
#define LISTED 150  /* of today; of more the most pressing one by one, the others by what is in the hand */

struct _AppCalendarPage
{
  AppDeskPage parent_instance;

  /* Template children, borrowed */
  GtkLabel *sentence;
  GtkListBox *list;
  GtkWidget *more;
  GtkDropDown *place;

  /* Owned */
  DeskAgenda *agenda;
  GArray *places; /* CoreId, one per row of `place`; the first is none */
  CoreId shown;   /* the place whose tasks are listed; none = all */
  int days;
  gboolean filling;
  gboolean seen; /* drawn since it was opened: before that no key may write */
  gulong painted; /* handler of the frame clock, 0 = none */
};

G_DEFINE_FINAL_TYPE (AppCalendarPage, app_calendar_page, APP_TYPE_DESK_PAGE)

/* What a row stands for; kept on the row. */
typedef struct
{
  CoreTask task;
  CoreDay day;      /* heading under which it is shown */
  char *group;      /* "House flies", "Spray bottle" … */
  gboolean held;
  gboolean later;   /* a whole group of a day to come: told, not yet to be done */
  CoreId subject;   /* none for a group of several */
} RowInfo;

static void
row_info_free (RowInfo *info)
{
  g_free (info->group);
  g_free (info);
}

static RowInfo *
info_of (GtkListBoxRow *row)
{
  return g_object_get_data (G_OBJECT (row), "info");
}

/* ---- groups: what the hand holds ---- */

static int
group_rank (const CoreTask *task)
{
  static const int ranks[CORE_N_TASKS] = {
    [CORE_TASK_IS_DEAD] = 0, [CORE_TASK_AFTER_MOULT] = 1, [CORE_TASK_TAKE_OUT] = 2, [CORE_TASK_FEED] = 3,
    [CORE_TASK_MIST] = 4,    [CORE_TASK_WATER] = 5,       [CORE_TASK_HOME] = 6,     [CORE_TASK_SEX_CHECK] = 7,
    [CORE_TASK_LOOK] = 8,    [CORE_TASK_SHED] = 9,        [CORE_TASK_CLEAN] = 10,
  };

  if (task->emergency)
    return -1;
  return task->kind < CORE_N_TASKS && (ranks[task->kind] > 0 || task->kind == CORE_TASK_IS_DEAD) ? ranks[task->kind] : 11;
}

static int
compare_info (const RowInfo *a, const RowInfo *b)
{
  int by_group;

  if (a->day != b->day)
    return a->day < b->day ? -1 : 1;
  if (a->held != b->held)
    return a->held ? 1 : -1;
  if (group_rank (&a->task) != group_rank (&b->task))
    return group_rank (&a->task) - group_rank (&b->task);
  by_group = g_utf8_collate (a->group, b->group);
  if (by_group != 0)
    return by_group;
  return core_task_order (&a->task, &b->task);
}

static int
sort_cb (GtkListBoxRow *a, GtkListBoxRow *b, gpointer data)
{
  return compare_info (info_of (a), info_of (b));
}

static char *
day_title (AppCalendarPage *self, CoreDay day)
{
  WordsView view = app_view (app_desk_page_desk (self));
  g_autofree char *full = words_day (&view, day, WORDS_DAY_FULL);

  if (day == view.today)
    return g_strdup_printf (C_ ("calendar", "Today, %s"), full);
  if (day == view.today + 1)
    return g_strdup_printf (C_ ("calendar", "Tomorrow, %s"), full);
  return g_steal_pointer (&full);
}

static void
header_cb (GtkListBoxRow *row, GtkListBoxRow *before, gpointer data)
{
  AppCalendarPage *self = data;
  RowInfo *info = info_of (row);
  RowInfo *prev = before != NULL ? info_of (before) : NULL;
  GtkWidget *box;

  if (prev != NULL && prev->day == info->day && prev->held == info->held && g_str_equal (prev->group, info->group))
    {
      gtk_list_box_row_set_header (row, NULL);
      return;
    }
  box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  if (prev == NULL || prev->day != info->day)
    {
      g_autofree char *title = day_title (self, info->day);
      GtkLabel *label = app_text (box, title, "title");

      gtk_widget_set_margin_top (GTK_WIDGET (label), prev == NULL ? 0 : 18);
    }
  {
    GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 9);
    GtkWidget *sign = app_symbol_new (info->held ? "leave" : app_task_symbol (info->task.kind), 16);

    gtk_widget_add_css_class (sign, info->held ? "veil" : info->later ? "dim" : "due");
    gtk_widget_set_margin_top (line, 9);
    gtk_box_append (GTK_BOX (line), sign);
    app_text (line, info->held ? C_ ("calendar", "Leave alone") : info->group, info->held ? "veil" : "strong");
    gtk_box_append (GTK_BOX (box), line);
  }
  gtk_list_box_row_set_header (row, box);
}

/* ---- done, put off ---- */

typedef struct
{
  AppCalendarPage *page; /* a reference */
  char *text;            /* what to say once it is on disk */
} Writing;

static void
finished_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Writing *writing = data;
  g_autoptr (AppCalendarPage) self = writing->page;
  g_autofree char *text = writing->text;
  g_autoptr (GError) error = NULL;
  AppWindow *window = app_window_of (self);
  gboolean ok = desk_task_finish (DESK_DESK (source), result, &error);

  g_free (writing);
  if (window == NULL)
    return;
  if (ok)
    app_window_say (window, text);
  else
    app_window_say_error (window, error);
}

static Writing *
writing_new (AppCalendarPage *self, char *text)
{
  Writing *writing = g_new (Writing, 1);

  writing->page = g_object_ref (self);
  writing->text = text;
  return writing;
}

/* "26: Feed: 2 blue bottles" */
static char *
task_text (AppCalendarPage *self, const RowInfo *info)
{
  WordsView view = app_view (app_desk_page_desk (self));
  g_autoptr (DeskSubject) subject = desk_get (app_desk_page_desk (self), info->subject);
  g_autofree char *title = words_task_title (&view, &info->task);

  return g_strdup_printf ("%s: %s", subject != NULL ? app_calendar_label (subject) : "", title);
}

static void
done (AppCalendarPage *self, GtkListBoxRow *row)
{
  RowInfo *info = info_of (row);
  g_autofree char *task = NULL;

  if (info->held || info->later)
    return;
  task = task_text (self, info);
  desk_task_done_async (app_desk_page_desk (self), &info->task, finished_cb,
                        writing_new (self, g_strdup_printf (C_ ("calendar", "Done: %s. Ctrl+Z takes it back."), task)));
}

/* What is said "at once": prey that can bite what hangs, a death to be looked at, an emergency. */
static gboolean
cannot_wait (const CoreTask *task, CoreDay today)
{
  return task->emergency || ((task->kind == CORE_TASK_TAKE_OUT || task->kind == CORE_TASK_IS_DEAD) && task->latest <= today);
}

static void
refuse_to_put_off (AppCalendarPage *self, const WordsView *view, const CoreTask *task, const char *text)
{
  AppWindow *window = app_window_of (self);
  g_autofree char *why = app_reasons_text (view, task->reasons, task->n_reasons);
  /* Translators: a task of a cup, and its reasons, which are sentences */
  g_autofree char *said = g_strdup_printf (C_ ("calendar", "Not put off: %s. This cannot wait. %s"), text, why);

  if (window != NULL)
    app_window_say (window, said);
}

static void
put_off (AppCalendarPage *self, GtkListBoxRow *row)
{
  RowInfo *info = info_of (row);
  WordsView view = app_view (app_desk_page_desk (self));
  CoreDay until = MAX (view.today, info->task.due) + 1;
  g_autofree char *task = NULL;
  g_autofree char *day = NULL;

  if (info->held || info->later)
    return;
  task = task_text (self, info);
  if (cannot_wait (&info->task, view.today))
    {
      refuse_to_put_off (self, &view, &info->task, task);
      return;
    }
  day = words_day (&view, until, WORDS_DAY_SHORT);
  desk_task_put_off_async (
    app_desk_page_desk (self), &info->task, until, finished_cb,
    writing_new (self, g_strdup_printf (C_ ("calendar", "Put off to %s: %s. Ctrl+Z takes it back."), day, task)));
}

static GtkListBoxRow *
row_of (GtkWidget *button)
{
  return GTK_LIST_BOX_ROW (gtk_widget_get_ancestor (button, GTK_TYPE_LIST_BOX_ROW));
}

static void
done_cb (GtkButton *button, AppCalendarPage *self)
{
  done (self, row_of (GTK_WIDGET (button)));
}

static void
put_off_cb (GtkButton *button, AppCalendarPage *self)
{
  put_off (self, row_of (GTK_WIDGET (button)));
}

static void
activated_cb (GtkListBox *list, GtkListBoxRow *row, AppCalendarPage *self)
{
  AppWindow *window = app_window_of (self);
  RowInfo *info = info_of (row);
  g_autoptr (DeskSubject) subject = desk_get (app_desk_page_desk (self), info->subject);

  if (window == NULL || subject == NULL)
    return;
  if (desk_subject_kind (subject) == CORE_SUBJECT_PLACE)
    app_window_show_shelf (window, info->subject);
  else
    app_window_show_animal (window, info->subject);
}

/* The first row of the next or of the previous day. */
static void
to_day (AppCalendarPage *self, GtkListBoxRow *from, int step)
{
  int index = gtk_list_box_row_get_index (from);
  CoreDay day = info_of (from)->day;
  GtkListBoxRow *row = from;
  GtkListBoxRow *next;

  while ((next = gtk_list_box_get_row_at_index (self->list, index + step)) != NULL && info_of (next)->day == day)
    index += step;
  row = next != NULL ? next : gtk_list_box_get_row_at_index (self->list, index);
  if (step < 0 && next != NULL) /* at its end: up to its first row */
    for (day = info_of (next)->day, index--; (next = gtk_list_box_get_row_at_index (self->list, index - 1)) != NULL
                                             && info_of (next)->day == day; index--)
      row = next;
  if (row != NULL)
    gtk_widget_grab_focus (GTK_WIDGET (row));
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppCalendarPage *self)
{
  GtkWidget *focus = gtk_root_get_focus (gtk_widget_get_root (GTK_WIDGET (self)));

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return GDK_EVENT_PROPAGATE;
  if (!self->seen) /* typed ahead, at a task that nobody has read */
    return GDK_EVENT_STOP;
  if (focus == NULL || !GTK_IS_LIST_BOX_ROW (focus))
    return GDK_EVENT_PROPAGATE;
  if (keyval == GDK_KEY_space)
    done (self, GTK_LIST_BOX_ROW (focus));
  else if (gdk_keyval_to_lower (keyval) == GDK_KEY_p)
    put_off (self, GTK_LIST_BOX_ROW (focus));
  else if (keyval == GDK_KEY_Page_Down || keyval == GDK_KEY_Page_Up)
    to_day (self, GTK_LIST_BOX_ROW (focus), keyval == GDK_KEY_Page_Down ? 1 : -1);
  else
    return GDK_EVENT_PROPAGATE;
  return GDK_EVENT_STOP;
}

/* ---- rows ---- */

static GtkWidget *
small_button (const char *label, const char *what, GCallback callback, AppCalendarPage *self)
{
  GtkWidget *button = gtk_button_new_with_label (label);
  g_autofree char *name = g_strdup_printf ("%s: %s", label, what);

  gtk_widget_add_css_class (button, "quiet");
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  gtk_widget_set_focusable (button, FALSE); /* the row takes the key; the mouse takes the button */
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect_object (button, "clicked", callback, self, 0);
  return button;
}

static GtkWidget *
row_new (AppCalendarPage *self, RowInfo *info, const char *who, const char *what, const char *why)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkLabel *number = app_text (box, who, "strong");
  g_autofree char *label = g_strdup_printf ("%s: %s. %s", who, what, why);

  gtk_label_set_width_chars (number, 7);
  gtk_label_set_wrap (number, FALSE);
  gtk_widget_set_valign (GTK_WIDGET (number), GTK_ALIGN_START);
  gtk_widget_add_css_class (GTK_WIDGET (number), "numbers");
  gtk_widget_set_margin_start (GTK_WIDGET (number), 24);
  gtk_widget_set_hexpand (words, TRUE);
  app_text (words, what, NULL);
  if (why[0] != '\0')
    app_text (words, why, "dim");
  gtk_box_append (GTK_BOX (box), words);
  if (!info->held && !info->later)
    {
      gtk_box_append (GTK_BOX (box), small_button (C_ ("calendar", "Done"), label, G_CALLBACK (done_cb), self));
      if (!cannot_wait (&info->task, info->day))
        gtk_box_append (GTK_BOX (box), small_button (C_ ("calendar", "Put off"), label, G_CALLBACK (put_off_cb), self));
    }
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_object_set_data_full (G_OBJECT (row), "info", info, (GDestroyNotify) row_info_free);
  return row;
}

static void
add_task (AppCalendarPage *self, const WordsView *view, guint nth)
{
  const DeskAgendaRow *row = &g_array_index (self->agenda->rows, DeskAgendaRow, nth);
  const DeskSubject *subject = g_ptr_array_index (self->agenda->subjects, row->subject);
  RowInfo *info = g_new0 (RowInfo, 1);
  g_autofree char *title = NULL;
  g_autofree char *when = NULL;
  g_autofree char *what = NULL;
  g_autofree char *why = NULL;

  if (!desk_agenda_task (self->agenda, nth, &info->task))
    {
      row_info_free (info);
      return;
    }
  info->day = view->today;
  info->group = app_calendar_group (&info->task);
  info->subject = desk_subject_id (subject);
  title = words_task_title (view, &info->task);
  when = words_task_when (view, &info->task);
  what = row->due < view->today ? g_strdup_printf ("%s · %s", title, when) : g_strdup (title);
  why = app_reasons_text (view, info->task.reasons, info->task.n_reasons);
  gtk_list_box_append (self->list, row_new (self, info, app_calendar_label (subject), what, why));
}

/* ---- days to come: one line for all that the hand does with one thing ---- */

static void
add_later (AppCalendarPage *self, const AppCalendarLater *later)
{
  RowInfo *info = g_new0 (RowInfo, 1);
  CoreId none = { { 0 } };
  g_autofree char *what = app_calendar_later_text (later);

  info->task = later->task;
  info->day = later->day;
  info->group = g_strdup (later->group);
  info->later = TRUE;
  info->subject = later->labels->len == 1 ? later->subject : none;
  gtk_list_box_append (self->list, row_new (self, info, "", what, ""));
}

/* The rows come in the order of the plan: of today the most pressing first. */
static void
add_tasks (AppCalendarPage *self, const WordsView *view)
{
  g_autoptr (GHashTable) groups = app_calendar_later_new ();
  GHashTableIter iter;
  gpointer later;
  guint listed = 0;

  for (guint i = 0; i < self->agenda->rows->len; i++)
    {
      const DeskAgendaRow *row = &g_array_index (self->agenda->rows, DeskAgendaRow, i);

      if (row->due <= view->today && listed++ < LISTED)
        add_task (self, view, i);
      else if (row->due <= view->today)
        app_calendar_later_add (groups, self->agenda, row, view->today, TRUE);
      else if (row->due < view->today + self->days)
        app_calendar_later_add (groups, self->agenda, row, row->due, FALSE);
    }
  g_hash_table_iter_init (&iter, groups);
  while (g_hash_table_iter_next (&iter, NULL, &later))
    add_later (self, later);
}

static void
add_held_row (AppCalendarPage *self, const WordsView *view, CoreId subject, const char *who, const char *what,
              const char *why)
{
  RowInfo *info = g_new0 (RowInfo, 1);

  info->held = TRUE;
  info->day = view->today;
  info->group = g_strdup ("");
  info->subject = subject;
  gtk_list_box_append (self->list, row_new (self, info, who, what, why));
}

/* One line for a cup that is to be left alone, whatever is held back in it. */
static void
add_alone (AppCalendarPage *self, const WordsView *view)
{
  const GArray *alone = self->agenda->alone;
  CoreId none = { { 0 } };

  for (guint i = 0; i < MIN (alone->len, LISTED); i++)
    {
      DeskSubject *subject = g_ptr_array_index (self->agenda->subjects, g_array_index (alone, guint32, i));
      const CoreHold *hold = &desk_subject_plan (subject)->hold;
      g_autofree char *what = words_hold (view, hold);
      g_autofree char *why = app_reasons_text (view, hold->reasons, hold->n_reasons);

      add_held_row (self, view, desk_subject_id (subject), desk_subject_label (subject), what, why);
    }
  if (alone->len > LISTED)
    {
      g_autofree char *what
        = g_strdup_printf (C_ ("calendar", "%u more are to be left alone. Choose a place to see each."),
                           alone->len - LISTED);

      add_held_row (self, view, none, "", what, "");
    }
}

static CoreId
chosen_place (AppCalendarPage *self)
{
  guint chosen = gtk_drop_down_get_selected (self->place);
  CoreId none = { { 0 } };

  return chosen < self->places->len ? g_array_index (self->places, CoreId, chosen) : none;
}

static void
fill_places (AppCalendarPage *self)
{
  g_autoptr (GPtrArray) places = desk_places (app_desk_page_desk (self));
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  CoreId now = chosen_place (self);
  CoreId none = { { 0 } };
  guint selected = 0;

  self->filling = TRUE;
  g_array_set_size (self->places, 0);
  g_array_append_val (self->places, none);
  gtk_string_list_append (names, C_ ("calendar", "all places"));
  for (guint i = 0; i < places->len; i++)
    {
      CoreId id = desk_subject_id (g_ptr_array_index (places, i));

      g_array_append_val (self->places, id);
      gtk_string_list_append (names, desk_place_name (g_ptr_array_index (places, i)));
      if (core_id_equal (id, now))
        selected = i + 1;
    }
  gtk_drop_down_set_model (self->place, G_LIST_MODEL (names));
  gtk_drop_down_set_selected (self->place, selected);
  self->filling = FALSE;
}

static void
set_sentence (AppCalendarPage *self, const WordsView *view)
{
  guint today = 0, overdue = 0;
  g_autofree char *text = NULL;

  for (guint i = 0; i < self->agenda->rows->len; i++)
    {
      const DeskAgendaRow *row = &g_array_index (self->agenda->rows, DeskAgendaRow, i);

      today += row->due <= view->today ? 1 : 0;
      overdue += row->latest < view->today ? 1 : 0;
    }
  if (today == 0)
    text = g_strdup (C_ ("calendar", "Nothing is due today."));
  else if (overdue == 0)
    text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u task is due today.", "%u tasks are due today.", today), today);
  else
    text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u task is due today, %u of the tasks overdue.",
                                         "%u tasks are due today, %u of them overdue.", today), today, overdue);
  gtk_label_set_label (self->sentence, text);
}

static int
focused_index (AppCalendarPage *self)
{
  GtkWidget *child = gtk_widget_get_focus_child (GTK_WIDGET (self->list));

  return child != NULL && GTK_IS_LIST_BOX_ROW (child) ? gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (child)) : -1;
}

static void
fill (AppCalendarPage *self, CoreId place)
{
  WordsView view = app_view (app_desk_page_desk (self));
  GtkListBoxRow *row;
  int focus = focused_index (self);

  self->shown = place;
  g_clear_pointer (&self->agenda, desk_agenda_free);
  self->agenda = desk_agenda (app_desk_page_desk (self), view.today, view.today + self->days - 1, place);
  /* Rows, not children: a header is a child too, and GTK makes a removed one anew, for ever. */
  while ((row = gtk_list_box_get_row_at_index (self->list, 0)) != NULL)
    gtk_list_box_remove (self->list, GTK_WIDGET (row));
  add_tasks (self, &view);
  add_alone (self, &view);
  set_sentence (self, &view);
  gtk_widget_set_visible (self->more, self->days < MAX_DAYS);
  if (focus >= 0)
    {
      row = gtk_list_box_get_row_at_index (self->list, focus);
      if (row != NULL)
        gtk_widget_grab_focus (GTK_WIDGET (row));
    }
}

static void
refresh (AppCalendarPage *self)
{
  if (app_desk_page_desk (self) == NULL || !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  fill_places (self);
  fill (self, chosen_place (self));
}

/* ---- seen or not ---- */

static void
painted_cb (GdkFrameClock *clock, AppCalendarPage *self)
{
  self->seen = TRUE;
  g_clear_signal_handler (&self->painted, clock);
}

static void
map_cb (AppCalendarPage *self)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (GTK_WIDGET (self));

  self->seen = FALSE;
  refresh (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (self->painted == 0)
    self->painted = g_signal_connect_object (clock, "after-paint", G_CALLBACK (painted_cb), self, 0);
}

static void
unmap_cb (AppCalendarPage *self)
{
  g_clear_signal_handler (&self->painted, gtk_widget_get_frame_clock (GTK_WIDGET (self)));
}

/* On the first task, not on the choice of places above it. */
static gboolean
focus (AppDeskPage *page)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (APP_CALENDAR_PAGE (page)->list, 0);

  return row != NULL && gtk_widget_grab_focus (GTK_WIDGET (row));
}

static void
changed (AppDeskPage *page, DeskSubject *subject)
{
  refresh (APP_CALENDAR_PAGE (page));
}

static void
today_changed (AppDeskPage *page)
{
  refresh (APP_CALENDAR_PAGE (page));
}

static void
place_cb (GtkDropDown *place, GParamSpec *pspec, AppCalendarPage *self)
{
  /* The list of places stays as it is here: a model set inside this signal would raise it again. */
  if (!self->filling && app_desk_page_desk (self) != NULL && !core_id_equal (chosen_place (self), self->shown))
    fill (self, chosen_place (self));
}

static void
more_cb (GtkButton *button, AppCalendarPage *self)
{
  self->days = MIN (MAX_DAYS, self->days + MORE_DAYS);
  refresh (self);
}

/* ---- object ---- */

static void
desk_set (AppDeskPage *page)
{
  AppCalendarPage *self = APP_CALENDAR_PAGE (page);

  self->days = FIRST_DAYS;
  refresh (self);
}

static void
dispose (GObject *object)
{
  AppCalendarPage *self = APP_CALENDAR_PAGE (object);

  app_template_dispose (GTK_WIDGET (self), APP_TYPE_CALENDAR_PAGE); /* first the rows, which use these */
  g_clear_pointer (&self->agenda, desk_agenda_free);
  g_clear_pointer (&self->places, g_array_unref);
  G_OBJECT_CLASS (app_calendar_page_parent_class)->dispose (object);
}

static void
app_calendar_page_class_init (AppCalendarPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  APP_DESK_PAGE_CLASS (klass)->focus = focus;
  APP_DESK_PAGE_CLASS (klass)->desk_set = desk_set;
  APP_DESK_PAGE_CLASS (klass)->changed = changed;
  APP_DESK_PAGE_CLASS (klass)->today_changed = today_changed;
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/calendar-page.ui");
  gtk_widget_class_bind_template_child (widget_class, AppCalendarPage, sentence);
  gtk_widget_class_bind_template_child (widget_class, AppCalendarPage, list);
  gtk_widget_class_bind_template_child (widget_class, AppCalendarPage, more);
  gtk_widget_class_bind_template_child (widget_class, AppCalendarPage, place);
}

static void
app_calendar_page_init (AppCalendarPage *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->days = FIRST_DAYS;
  self->places = g_array_new (FALSE, FALSE, sizeof (CoreId));
  gtk_widget_init_template (GTK_WIDGET (self));
  app_drop_down_mend (self->place, TRUE);
  gtk_list_box_set_sort_func (self->list, sort_cb, self, NULL);
  gtk_list_box_set_header_func (self->list, header_cb, self, NULL);
  g_signal_connect_object (self->list, "row-activated", G_CALLBACK (activated_cb), self, 0);
  g_signal_connect_object (self->place, "notify::selected", G_CALLBACK (place_cb), self, 0);
  g_signal_connect_object (self->more, "clicked", G_CALLBACK (more_cb), self, 0);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  g_signal_connect (self, "map", G_CALLBACK (map_cb), NULL);
  g_signal_connect (self, "unmap", G_CALLBACK (unmap_cb), NULL);
}

GtkWidget *
app_calendar_page_new (void)
{
  return g_object_new (APP_TYPE_CALENDAR_PAGE, NULL);
}
