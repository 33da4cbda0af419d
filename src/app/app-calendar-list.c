/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-calendar-list.c — see app-calendar-list.h. What is held back stands below the tasks of today. */
#include "app/app-calendar-list.h"

#include <glib/gi18n.h>

#include "app/app-calendar-later.h"
#include "app/app-symbol.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-window.h"
#include "desk/desk-agenda.h"
#include "desk/desk-missed.h"

#define LISTED 150 /* of a day; of more the most pressing one by one, the others by what is in the hand */
#define AT_ONCE 24 /* rows that stand there with the page: more than it shows; the others follow */
#define SLICE_US 5000

struct _AppCalendarList
{
  GtkWidget parent_instance;

  GtkListBox *list;   /* child, borrowed */
  Desk *desk;         /* owned */
  GPtrArray *rows;    /* Pending *, in their order; those from `next` on are no widgets yet */
  guint next;
  guint going_on;     /* source, 0 = none */
  GHashTable *open;   /* ids of shelves, as text, whose missed tasks are shown one by one */
  gboolean one_day;
  gboolean seen;      /* drawn since it was opened: before that no key may write */
};

G_DEFINE_FINAL_TYPE (AppCalendarList, app_calendar_list, GTK_TYPE_WIDGET)

enum
{
  REFILL,
  STEP,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

/* Where a row stands among those of its day: first the hands, then these. */
enum
{
  UNSEEN_FIRST = 1, /* after emergencies: nobody knows how these are */
  AFTER_MISSED = 100, /* one line a shelf */
  AFTER_UNFOLDED,
  AFTER_MOULTS,
  AFTER_HELD
};

typedef enum
{
  TELLS,   /* nothing to be done with it */
  TASK,    /* may be marked done, or put off */
  MISSED,  /* several of a shelf */
} RowKind;

/* What a row stands for; kept on the row. */
typedef struct
{
  RowKind kind;
  CoreTask task;
  CoreDay day;        /* heading under which it is shown */
  char *group;        /* "House flies", "Spray bottle" … */
  const char *symbol; /* beside the group; static */
  const char *css;
  int hand;           /* order of the groups */
  CoreId subject;     /* none for a group of several; of MISSED the shelf */
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

/* A row to be. What a task says is made late: of a hundred few are ever seen. */
typedef struct
{
  RowInfo *info;        /* owned until it is on a row */
  DeskSubject *subject; /* owned; of a task, else NULL */
  CoreDay from, to;     /* of its agenda */
  guint nth;            /* of its plan */
  char *who, *what, *why;
  guint order;          /* of a plan: the most pressing first */
} Pending;

static void
pending_free (gpointer data)
{
  Pending *self = data;

  g_clear_pointer (&self->info, row_info_free);
  g_clear_pointer (&self->subject, desk_subject_unref);
  g_free (self->who);
  g_free (self->what);
  g_free (self->why);
  g_free (self);
}

static int
compare_pending (gconstpointer x, gconstpointer y)
{
  const Pending *p = *(const Pending *const *) x, *q = *(const Pending *const *) y;
  const RowInfo *a = p->info, *b = q->info;
  int by_group;

  if (a->day != b->day)
    return a->day < b->day ? -1 : 1;
  if (a->hand != b->hand)
    return a->hand - b->hand;
  by_group = g_utf8_collate (a->group, b->group);
  return by_group != 0 ? by_group : p->order < q->order ? -1 : 1;
}

static Pending *
add_pending (AppCalendarList *self, RowInfo *info, const char *who, const char *what, const char *why)
{
  Pending *pending = g_new0 (Pending, 1);

  pending->info = info;
  pending->who = g_strdup (who);
  pending->what = g_strdup (what);
  pending->why = g_strdup (why);
  pending->order = self->rows->len;
  g_ptr_array_add (self->rows, pending);
  return pending;
}

static char *
day_title (AppCalendarList *self, CoreDay day)
{
  WordsView view = app_view (self->desk);
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
  AppCalendarList *self = data;
  RowInfo *info = info_of (row);
  RowInfo *prev = before != NULL ? info_of (before) : NULL;
  GtkWidget *box;

  if (prev != NULL && prev->day == info->day && prev->hand == info->hand && g_str_equal (prev->group, info->group))
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
    GtkWidget *sign = app_symbol_new (info->symbol, 16);

    gtk_widget_add_css_class (sign, info->css);
    gtk_widget_set_margin_top (line, 9);
    gtk_box_append (GTK_BOX (line), sign);
    app_text (line, info->group, info->hand == AFTER_HELD ? "veil" : "strong");
    gtk_box_append (GTK_BOX (box), line);
  }
  gtk_list_box_row_set_header (row, box);
}

/* ---- done, put off ---- */

typedef struct
{
  AppCalendarList *page; /* a reference */
  char *text;            /* what to say once it is on disk */
} Writing;

static void
finished_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Writing *writing = data;
  g_autoptr (AppCalendarList) self = writing->page;
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
writing_new (AppCalendarList *self, char *text)
{
  Writing *writing = g_new (Writing, 1);

  writing->page = g_object_ref (self);
  writing->text = text;
  return writing;
}

/* "26: Feed: 2 blue bottles" */
static char *
task_text (AppCalendarList *self, const RowInfo *info)
{
  WordsView view = app_view (self->desk);
  g_autoptr (DeskSubject) subject = desk_get (self->desk, info->subject);
  g_autofree char *title = words_task_title (&view, &info->task);

  return g_strdup_printf ("%s: %s", subject != NULL ? app_calendar_label (subject) : "", title);
}

static void
done (AppCalendarList *self, GtkListBoxRow *row)
{
  RowInfo *info = info_of (row);
  g_autofree char *task = NULL;

  if (info->kind != TASK)
    return;
  task = task_text (self, info);
  desk_task_done_async (self->desk, &info->task, finished_cb,
                        writing_new (self, g_strdup_printf (C_ ("calendar", "Done: %s. Ctrl+Z takes it back."), task)));
}

/* What is said "at once": prey that can bite what hangs, a death to be looked at, an emergency. */
static gboolean
cannot_wait (const CoreTask *task, CoreDay today)
{
  return task->emergency || ((task->kind == CORE_TASK_TAKE_OUT || task->kind == CORE_TASK_IS_DEAD) && task->latest <= today);
}

static void
refuse_to_put_off (AppCalendarList *self, const WordsView *view, const CoreTask *task, const char *text)
{
  AppWindow *window = app_window_of (self);
  g_autofree char *why = app_reasons_text (view, task->reasons, task->n_reasons);
  /* Translators: a task of a cup, and its reasons, which are sentences */
  g_autofree char *said = g_strdup_printf (C_ ("calendar", "Not put off: %s. This cannot wait. %s"), text, why);

  if (window != NULL)
    app_window_say (window, said);
}

static void
put_off (AppCalendarList *self, GtkListBoxRow *row)
{
  RowInfo *info = info_of (row);
  WordsView view = app_view (self->desk);
  CoreDay until = MAX (view.today, info->task.due) + 1;
  g_autofree char *task = NULL;
  g_autofree char *day = NULL;

  if (info->kind != TASK)
    return;
  task = task_text (self, info);
  if (cannot_wait (&info->task, view.today))
    {
      refuse_to_put_off (self, &view, &info->task, task);
      return;
    }
  day = words_day (&view, until, WORDS_DAY_SHORT);
  desk_task_put_off_async (
    self->desk, &info->task, until, finished_cb,
    writing_new (self, g_strdup_printf (C_ ("calendar", "Put off to %s: %s. Ctrl+Z takes it back."), day, task)));
}

static GtkListBoxRow *
row_of (GtkWidget *button)
{
  return GTK_LIST_BOX_ROW (gtk_widget_get_ancestor (button, GTK_TYPE_LIST_BOX_ROW));
}

static void
done_cb (GtkButton *button, AppCalendarList *self)
{
  done (self, row_of (GTK_WIDGET (button)));
}

static void
put_off_cb (GtkButton *button, AppCalendarList *self)
{
  put_off (self, row_of (GTK_WIDGET (button)));
}

/* The missed tasks of a shelf, one by one or in one line again. */
static void
unfold (AppCalendarList *self, const CoreId *shelf)
{
  char text[37];

  core_id_to_text (*shelf, text);
  if (!g_hash_table_remove (self->open, text))
    g_hash_table_add (self->open, g_strdup (text));
  g_signal_emit (self, signals[REFILL], 0);
}

static gboolean
is_open (AppCalendarList *self, const DeskSubject *subject)
{
  CoreId shelf = { { 0 } };
  char text[37];

  (void) desk_subject_shelf (subject, &shelf);
  core_id_to_text (shelf, text);
  return g_hash_table_contains (self->open, text);
}

static void
activated_cb (GtkListBox *list, GtkListBoxRow *row, AppCalendarList *self)
{
  AppWindow *window = app_window_of (self);
  RowInfo *info = info_of (row);
  g_autoptr (DeskSubject) subject = desk_get (self->desk, info->subject);

  if (info->kind == MISSED)
    unfold (self, &info->subject);
  else if (window == NULL || subject == NULL)
    return;
  else if (desk_subject_kind (subject) == CORE_SUBJECT_PLACE)
    app_window_show_shelf (window, info->subject);
  else
    app_window_show_animal (window, info->subject);
}

/* The first row of the next or of the previous day. */
static void
to_day (AppCalendarList *self, GtkListBoxRow *from, int step)
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
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppCalendarList *self)
{
  GtkWidget *focus = gtk_widget_get_focus_child (GTK_WIDGET (self->list));
  int step = keyval == GDK_KEY_Page_Down ? 1 : keyval == GDK_KEY_Page_Up ? -1 : 0;

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return GDK_EVENT_PROPAGATE;
  if (!self->seen) /* typed ahead, at a task that nobody has read */
    return GDK_EVENT_STOP;
  if (focus == NULL || !GTK_IS_LIST_BOX_ROW (focus) || !gtk_widget_is_focus (focus))
    return GDK_EVENT_PROPAGATE;
  if (keyval == GDK_KEY_space)
    done (self, GTK_LIST_BOX_ROW (focus));
  else if (gdk_keyval_to_lower (keyval) == GDK_KEY_p)
    put_off (self, GTK_LIST_BOX_ROW (focus));
  else if (step != 0 && self->one_day)
    g_signal_emit (self, signals[STEP], 0, step);
  else if (step != 0)
    to_day (self, GTK_LIST_BOX_ROW (focus), step);
  else
    return GDK_EVENT_PROPAGATE;
  return GDK_EVENT_STOP;
}

/* ---- rows ---- */

static GtkWidget *
small_button (const char *label, const char *what, GCallback callback, AppCalendarList *self)
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
row_new (AppCalendarList *self, RowInfo *info, const char *who, const char *what, const char *why)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkLabel *number = app_text (box, who, "strong");
  g_autofree char *label = g_strdup_printf ("%s: %s. %s", who, what, why);

  gtk_label_set_width_chars (number, self->one_day ? 3 : 7);
  gtk_label_set_wrap (number, FALSE);
  gtk_widget_set_valign (GTK_WIDGET (number), GTK_ALIGN_START);
  gtk_widget_add_css_class (GTK_WIDGET (number), "numbers");
  gtk_widget_set_margin_start (GTK_WIDGET (number), 24);
  gtk_widget_set_hexpand (words, TRUE);
  app_text (words, what, NULL);
  if (why[0] != '\0')
    app_text (words, why, "dim");
  gtk_box_append (GTK_BOX (box), words);
  if (info->kind == TASK)
    {
      GtkWidget *buttons = gtk_box_new (self->one_day ? GTK_ORIENTATION_VERTICAL : GTK_ORIENTATION_HORIZONTAL, 0);

      gtk_box_append (GTK_BOX (buttons), small_button (C_ ("calendar", "Done"), label, G_CALLBACK (done_cb), self));
      if (!cannot_wait (&info->task, info->day))
        gtk_box_append (GTK_BOX (buttons), small_button (C_ ("calendar", "Put off"), label, G_CALLBACK (put_off_cb), self));
      gtk_box_append (GTK_BOX (box), buttons);
    }
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_object_set_data_full (G_OBJECT (row), "info", info, (GDestroyNotify) row_info_free);
  return row;
}

typedef struct
{
  AppCalendarList *self;
  WordsView view;
  DeskAgenda *agenda;
  CoreDay from, to;
  GPtrArray *missed;  /* DeskMissed */
  GHashTable *groups; /* AppCalendarLater */
  guint listed;       /* one by one */
} Filling;

static void
add_task (Filling *filling, const DeskAgendaRow *row, gboolean unfolded)
{
  DeskSubject *subject = g_ptr_array_index (filling->agenda->subjects, row->subject);
  CoreTask task = app_calendar_task (row);
  RowInfo *info = g_new0 (RowInfo, 1);
  Pending *pending;

  info->kind = row->day == filling->view.today ? TASK : TELLS;
  info->day = row->day;
  info->group = unfolded ? g_strdup (C_ ("calendar", "Left from earlier evenings, one by one")) : app_calendar_group (&task);
  info->symbol = app_task_symbol (task.kind);
  info->css = unfolded || info->kind != TASK ? "dim" : "due";
  info->hand = unfolded ? AFTER_UNFOLDED : app_calendar_hand (&task);
  info->subject = desk_subject_id (subject);
  pending = add_pending (filling->self, info, app_calendar_label (subject), NULL, NULL);
  pending->subject = desk_subject_ref (subject);
  pending->from = filling->agenda->from;
  pending->to = filling->agenda->to;
  pending->nth = row->nth;
}

/* What the task says; FALSE: it is there no more. */
static gboolean
tell (const WordsView *view, Pending *pending)
{
  CoreTask *task = &pending->info->task;
  g_autofree char *title = NULL;
  g_autofree char *when = NULL;

  if (!desk_subject_task (pending->subject, pending->from, pending->to, pending->nth, task))
    return FALSE;
  title = words_task_title (view, task);
  when = words_task_when (view, task);
  pending->what = task->due < view->today ? g_strdup_printf ("%s · %s", title, when) : g_strdup (title);
  pending->why = app_reasons_text (view, task->reasons, task->n_reasons);
  return TRUE;
}

static void
add_widget (AppCalendarList *self, const WordsView *view, Pending *pending)
{
  if (pending->subject == NULL || tell (view, pending))
    gtk_list_box_append (self->list, row_new (self, g_steal_pointer (&pending->info), pending->who, pending->what, pending->why));
}

/* ---- days to come: one line for all that the hand does with one thing ---- */

static void
add_later (AppCalendarList *self, const AppCalendarLater *later)
{
  RowInfo *info = g_new0 (RowInfo, 1);
  CoreId none = { { 0 } };
  g_autofree char *what = app_calendar_later_text (later);

  info->task = later->task;
  info->day = later->day;
  info->group = g_strdup (later->group);
  info->symbol = app_task_symbol (later->task.kind);
  info->css = "dim";
  info->hand = app_calendar_hand (&later->task);
  info->subject = later->labels->len == 1 ? later->subject : none;
  add_pending (self, info, "", what, "");
}

/* ---- left from earlier evenings ---- */

static void
add_missed (AppCalendarList *self, const WordsView *view, const DeskMissed *missed)
{
  RowInfo *info = g_new0 (RowInfo, 1);
  g_autofree char *what = missed->unseen ? desk_missed_text (missed, WORDS_LOCAL) : words_missed_parts (WORDS_LOCAL, missed->labels);

  info->kind = MISSED;
  info->day = view->today;
  info->group = g_strdup (missed->unseen ? C_ ("calendar", "Not seen for days") : C_ ("calendar", "Left from earlier evenings"));
  info->symbol = "note";
  info->css = missed->unseen != NULL ? "due" : "dim";
  info->hand = missed->unseen != NULL ? UNSEEN_FIRST : AFTER_MISSED;
  if (missed->shelf != NULL)
    info->subject = desk_subject_id (missed->shelf);
  add_pending (self, info, desk_missed_name (missed), what, C_ ("calendar", "One late round clears them. Enter shows each."));
}

/* ---- moults that may come ---- */

static void
add_moults (AppCalendarList *self, const WordsView *view, const DeskWeeks *weeks, CoreDay day)
{
  for (guint i = 0; i < weeks->bands->len; i++)
    {
      const DeskBand *band = &g_array_index (weeks->bands, DeskBand, i);
      RowInfo *info;
      g_autofree char *when = NULL;

      if (band->from > day || band->to < day)
        continue;
      when = app_moult_words (view, band->subject);
      info = g_new0 (RowInfo, 1);
      info->day = day;
      info->group = g_strdup (C_ ("calendar", "May moult"));
      info->symbol = "shed";
      info->css = "leaf";
      info->hand = AFTER_MOULTS;
      info->subject = desk_subject_id (band->subject);
      add_pending (self, info, desk_subject_label (band->subject), when, "");
    }
}

/* ---- leave alone ---- */

static void
add_held_row (AppCalendarList *self, const WordsView *view, CoreId subject, const char *who, const char *what,
              const char *why)
{
  RowInfo *info = g_new0 (RowInfo, 1);

  info->day = view->today;
  info->group = g_strdup (C_ ("calendar", "Leave alone"));
  info->symbol = "leave";
  info->css = "veil";
  info->hand = AFTER_HELD;
  info->subject = subject;
  add_pending (self, info, who, what, why);
}

/* One line for a cup that is to be left alone, whatever is held back in it. */
static void
add_alone (AppCalendarList *self, const WordsView *view, const DeskAgenda *agenda, const DeskFilter *filter)
{
  const GArray *alone = agenda->alone;
  CoreId none = { { 0 } };
  guint listed = 0, more = 0;

  for (guint i = 0; i < alone->len; i++)
    {
      DeskSubject *subject = g_ptr_array_index (agenda->subjects, g_array_index (alone, guint32, i));
      const CoreHold *hold = &desk_subject_plan (subject)->hold;
      g_autofree char *what = NULL;
      g_autofree char *why = NULL;

      if (filter->hand >= 0 || !desk_filter_shows (filter, subject, view->today))
        continue;
      if (listed++ >= LISTED)
        {
          more++;
          continue;
        }
      what = words_hold (view, hold);
      why = app_reasons_text (view, hold->reasons, hold->n_reasons);
      add_held_row (self, view, desk_subject_id (subject), desk_subject_label (subject), what, why);
    }
  if (more > 0)
    {
      g_autofree char *what
        = g_strdup_printf (C_ ("calendar", "%u more are to be left alone. Choose a place to see each."), more);

      add_held_row (self, view, none, "", what, "");
    }
}

/* ---- filling ---- */

static void
add_row (Filling *filling, const DeskAgendaRow *row)
{
  DeskSubject *subject = g_ptr_array_index (filling->agenda->subjects, row->subject);
  CoreTask task = app_calendar_task (row);

  if (row->day < filling->from || row->day > filling->to)
    return;
  if (desk_missed_add (filling->self->desk, filling->missed, subject, &task))
    {
      if (is_open (filling->self, subject))
        add_task (filling, row, TRUE);
      return;
    }
  if ((row->day == filling->view.today || filling->self->one_day) && filling->listed++ < LISTED)
    add_task (filling, row, FALSE);
  else
    app_calendar_later_add (filling->groups, filling->agenda, row, row->day,
                            row->day == filling->view.today || filling->self->one_day);
}

/* The rows come in the order of the plan: of a day the most pressing first. */
static void
add_rows (Filling *filling, const DeskFilter *filter)
{
  g_autofree gboolean *shown = g_new (gboolean, filling->agenda->subjects->len + 1);
  GHashTableIter iter;
  gpointer later;

  for (guint i = 0; i < filling->agenda->subjects->len; i++)
    shown[i] = desk_filter_shows (filter, filling->agenda->subjects->pdata[i], filling->view.today);
  for (guint i = 0; i < filling->agenda->rows->len; i++)
    {
      const DeskAgendaRow *row = &g_array_index (filling->agenda->rows, DeskAgendaRow, i);

      if (shown[row->subject] && desk_filter_shows_row (filter, row))
        add_row (filling, row);
    }
  desk_missed_done (filling->self->desk, filling->missed);
  for (guint i = 0; i < filling->missed->len; i++)
    add_missed (filling->self, &filling->view, filling->missed->pdata[i]);
  g_hash_table_iter_init (&iter, filling->groups);
  while (g_hash_table_iter_next (&iter, NULL, &later))
    add_later (filling->self, later);
}

static int
focused_index (AppCalendarList *self)
{
  GtkWidget *child = gtk_widget_get_focus_child (GTK_WIDGET (self->list));

  return child != NULL && GTK_IS_LIST_BOX_ROW (child) ? gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (child)) : -1;
}

/* The next rows, as many as asked for, or until that moment. */
static gboolean
go_on (AppCalendarList *self, guint n, gint64 until)
{
  WordsView view = app_view (self->desk);

  for (; self->next < self->rows->len && n > 0 && g_get_monotonic_time () < until; n--)
    add_widget (self, &view, self->rows->pdata[self->next++]);
  return self->next < self->rows->len;
}

static gboolean
go_on_cb (gpointer data)
{
  AppCalendarList *self = data;

  if (go_on (self, G_MAXUINT, g_get_monotonic_time () + SLICE_US))
    return G_SOURCE_CONTINUE;
  self->going_on = 0;
  return G_SOURCE_REMOVE;
}

static void
clear_rows (AppCalendarList *self)
{
  GtkListBoxRow *row;

  g_clear_handle_id (&self->going_on, g_source_remove);
  g_ptr_array_set_size (self->rows, 0);
  self->next = 0;
  /* Rows, not children: a header is a child too, and GTK makes a removed one anew, for ever. */
  while ((row = gtk_list_box_get_row_at_index (self->list, 0)) != NULL)
    gtk_list_box_remove (self->list, GTK_WIDGET (row));
}

void
app_calendar_list_set (AppCalendarList *self, Desk *desk, DeskAgenda *agenda, const DeskFilter *filter,
                       const DeskWeeks *weeks, CoreDay from, CoreDay to)
{
  g_autoptr (GPtrArray) missed = desk_missed_new ();
  g_autoptr (GHashTable) groups = app_calendar_later_new ();
  Filling filling = { self, app_view (desk), agenda, from, to, missed, groups, 0 };
  int focus = focused_index (self);
  GtkListBoxRow *row;

  g_return_if_fail (APP_IS_CALENDAR_LIST (self));
  g_set_object (&self->desk, desk);
  self->one_day = weeks != NULL;
  clear_rows (self);
  add_rows (&filling, filter);
  if (weeks != NULL && filter->hand < 0)
    add_moults (self, &filling.view, weeks, from);
  if (from == filling.view.today)
    add_alone (self, &filling.view, agenda, filter);
  g_ptr_array_sort (self->rows, compare_pending);
  if (go_on (self, (guint) MAX (AT_ONCE, focus + 1), G_MAXINT64))
    self->going_on = g_idle_add_full (G_PRIORITY_DEFAULT_IDLE - 10, go_on_cb, self, NULL);
  row = focus >= 0 ? gtk_list_box_get_row_at_index (self->list, focus) : NULL;
  if (focus > 0 && row == NULL) /* it was the last one */
    row = gtk_list_box_get_row_at_index (self->list, 0);
  if (row != NULL)
    gtk_widget_grab_focus (GTK_WIDGET (row));
}

gboolean
app_calendar_list_focus (AppCalendarList *self)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (self->list, 0);

  return row != NULL && gtk_widget_grab_focus (GTK_WIDGET (row));
}

void
app_calendar_list_set_seen (AppCalendarList *self, gboolean seen)
{
  g_return_if_fail (APP_IS_CALENDAR_LIST (self));
  self->seen = seen;
}

/* ---- the widget ---- */

static void
dispose (GObject *object)
{
  AppCalendarList *self = APP_CALENDAR_LIST (object);

  g_clear_handle_id (&self->going_on, g_source_remove);
  app_unparent_all (object);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (app_calendar_list_parent_class)->dispose (object);
}

static void
finalize (GObject *object)
{
  g_hash_table_unref (APP_CALENDAR_LIST (object)->open);
  g_ptr_array_unref (APP_CALENDAR_LIST (object)->rows);
  G_OBJECT_CLASS (app_calendar_list_parent_class)->finalize (object);
}

static void
app_calendar_list_class_init (AppCalendarListClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = dispose;
  G_OBJECT_CLASS (klass)->finalize = finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  signals[REFILL] = g_signal_new ("refill", APP_TYPE_CALENDAR_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[STEP] = g_signal_new ("step", APP_TYPE_CALENDAR_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT);
}

static void
app_calendar_list_init (AppCalendarList *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->rows = g_ptr_array_new_with_free_func (pending_free);
  self->open = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->list = GTK_LIST_BOX (gtk_list_box_new ());
  gtk_list_box_set_selection_mode (self->list, GTK_SELECTION_NONE);
  gtk_widget_add_css_class (GTK_WIDGET (self->list), "plain");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, C_ ("calendar", "Tasks"), -1);
  gtk_list_box_set_header_func (self->list, header_cb, self, NULL);
  gtk_widget_set_parent (GTK_WIDGET (self->list), GTK_WIDGET (self));
  g_signal_connect_object (self->list, "row-activated", G_CALLBACK (activated_cb), self, 0);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}
