/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-calendar-page.c — the days to come: weeks with the list of the chosen day beside them, or one list of
 * all. It chooses what is shown; the weeks draw, the list writes. */
#include "app/app-calendar-page.h"

#include <glib/gi18n.h>

#include "app/app-calendar-filter.h"
#include "app/app-calendar-list.h"
#include "app/app-columns.h"
#include "app/app-settings.h"
#include "app/app-view.h"
#include "app/app-weeks.h"
#include "app/app-widgets.h"
#include "app/app-window.h"
#include "desk/desk-agenda.h"

#define AHEAD 89     /* days behind today that the weeks show */
#define FIRST 27     /* that are there at once; the others come while nothing else is to be done */
#define SLICE_US 5000
#define FIRST_DAYS 7 /* of the list */
#define MORE_DAYS 7
#define MAX_DAYS 28

#define SIDE_BY_SIDE 900  /* pixels from which the list stands beside the weeks */
#define NEVER 10000

struct _AppCalendarPage
{
  AppDeskPage parent_instance;

  /* Template children, borrowed */
  GtkLabel *sentence;
  GtkLabel *keys;
  AppCalendarFilter *filter;
  GtkToggleButton *as_weeks;
  GtkToggleButton *as_list;
  AppColumns *columns;
  GtkWidget *weeks_scroller;
  AppWeeks *weeks;
  GtkScrolledWindow *list_scroller;
  AppCalendarList *list;
  GtkWidget *more;

  /* Owned */
  DeskAgenda *agenda;
  DeskFilter shown; /* its species is the filter's */
  DeskWeeks *days;  /* borrowed: those that `weeks` draws */
  int n_days;
  gulong painted; /* handler of the frame clock, 0 = none */
  DeskAgendaMaker *maker; /* of all days, while it is made */
  guint making;           /* its source, 0 = none */
};

G_DEFINE_FINAL_TYPE (AppCalendarPage, app_calendar_page, APP_TYPE_DESK_PAGE)

static gboolean
in_weeks (AppCalendarPage *self)
{
  return gtk_toggle_button_get_active (self->as_weeks);
}

/* ---- filling ---- */

/* "29 cups are due.": the count of the shelves, where each is counted once. */
static void
add_cups (GString *text, GPtrArray *subjects, const gboolean *due)
{
  guint n = 0;

  for (guint i = 0; i < subjects->len; i++)
    n += due[i] && desk_subject_kind (subjects->pdata[i]) != CORE_SUBJECT_PLACE ? 1 : 0;
  if (n > 0)
    g_string_append_printf (text, TN_ (WORDS_LOCAL, "calendar", " %u cup is due.", " %u cups are due.", n), n);
}

static void
set_sentence (AppCalendarPage *self, const WordsView *view)
{
  guint today = 0, overdue = 0;
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree gboolean *due = g_new0 (gboolean, self->agenda->subjects->len + 1);

  for (guint i = 0; i < self->agenda->rows->len; i++)
    {
      const DeskAgendaRow *row = &g_array_index (self->agenda->rows, DeskAgendaRow, i);

      if (!desk_filter_shows_row (&self->shown, row)
          || !desk_filter_shows (&self->shown, self->agenda->subjects->pdata[row->subject], view->today))
        continue;
      today += row->due <= view->today ? 1 : 0;
      due[row->subject] = due[row->subject] || row->due <= view->today;
      overdue += row->latest < view->today ? 1 : 0;
    }
  if (today == 0)
    g_string_append (text, C_ ("calendar", "Nothing is due today."));
  else if (overdue == 0)
    g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, "%u task is due today.", "%u tasks are due today.", today), today);
  else
    g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, "%u task is due today, %u of the tasks overdue.",
                                               "%u tasks are due today, %u of them overdue.", today), today, overdue);
  add_cups (text, self->agenda->subjects, due);
  gtk_label_set_label (self->sentence, text->str);
}

static void
fill_list (AppCalendarPage *self)
{
  CoreDay today = desk_today (app_desk_page_desk (self));
  CoreDay from = in_weeks (self) ? app_weeks_chosen (self->weeks) : today;
  CoreDay to = in_weeks (self) ? from : today + self->n_days - 1;

  app_calendar_list_set (self->list, app_desk_page_desk (self), self->agenda, &self->shown, in_weeks (self) ? self->days : NULL,
                         from, to);
}

static void
stop_making (AppCalendarPage *self)
{
  g_clear_handle_id (&self->making, g_source_remove);
  g_clear_pointer (&self->maker, desk_agenda_give_up);
}

static void
show_weeks (AppCalendarPage *self)
{
  Desk *desk = app_desk_page_desk (self);
  WordsView view = app_view (desk);

  self->days = desk_weeks_new (desk, self->agenda, app_calendar_filter_place (self->filter), &self->shown, view.today + AHEAD);
  app_weeks_set (self->weeks, self->days, &view);
}

/* The list of its first days was of the same plan, and stays. */
static gboolean
make_cb (gpointer data)
{
  AppCalendarPage *self = data;

  if (desk_agenda_go_on (self->maker, g_get_monotonic_time () + SLICE_US))
    return G_SOURCE_CONTINUE;
  g_clear_pointer (&self->agenda, desk_agenda_free);
  self->agenda = desk_agenda_end (g_steal_pointer (&self->maker));
  self->making = 0;
  app_calendar_filter_offer (self->filter, self->agenda);
  self->shown = app_calendar_filter_get (self->filter);
  show_weeks (self);
  if (in_weeks (self) && app_weeks_chosen (self->weeks) > desk_today (app_desk_page_desk (self)) + FIRST)
    fill_list (self);
  return G_SOURCE_REMOVE;
}

static void
fill (AppCalendarPage *self)
{
  Desk *desk = app_desk_page_desk (self);
  WordsView view = app_view (desk);
  CoreId place = app_calendar_filter_place (self->filter);

  stop_making (self);
  g_clear_pointer (&self->agenda, desk_agenda_free);
  self->agenda = desk_agenda (desk, view.today, view.today + FIRST, place);
  app_calendar_filter_offer (self->filter, self->agenda);
  self->shown = app_calendar_filter_get (self->filter);
  show_weeks (self);
  fill_list (self);
  set_sentence (self, &view);
  gtk_widget_set_visible (self->more, !in_weeks (self) && self->n_days < MAX_DAYS);
  if (!in_weeks (self))
    return;
  self->maker = desk_agenda_begin (desk, view.today, view.today + AHEAD, place);
  self->making = g_idle_add (make_cb, self);
}

static void
refresh (AppCalendarPage *self)
{
  if (app_desk_page_desk (self) == NULL || !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  app_calendar_filter_refresh (self->filter, app_desk_page_desk (self));
  fill (self);
}

/* Weeks, or all in one list. */
static void
set_way (AppCalendarPage *self)
{
  gboolean weeks = in_weeks (self);

  gtk_widget_set_visible (self->weeks_scroller, weeks);
  g_object_set (self->columns, "turn", weeks ? SIDE_BY_SIDE : NEVER, NULL);
  gtk_label_set_label (self->keys,
                       weeks ? C_ ("calendar", "Arrows go by days and weeks, Page Down by four weeks, Enter to the tasks of the "
                                               "day · there Space marks one done · P puts it off to tomorrow · Enter opens the "
                                               "animal")
                             : C_ ("calendar", "Space marks a task done · P puts it off to tomorrow · Enter opens the animal · "
                                               "Page Down goes to the next day"));
}

static void
way_cb (GtkToggleButton *button, GParamSpec *pspec, AppCalendarPage *self)
{
  if (app_settings () != NULL)
    (void) g_settings_set_boolean (app_settings (), "calendar-list", !in_weeks (self));
  set_way (self);
  refresh (self);
}

static void
filter_cb (AppCalendarFilter *filter, AppCalendarPage *self)
{
  if (app_desk_page_desk (self) != NULL)
    fill (self);
}

static void
more_cb (GtkButton *button, AppCalendarPage *self)
{
  self->n_days = MIN (MAX_DAYS, self->n_days + MORE_DAYS);
  refresh (self);
}

/* ---- the chosen day ---- */

static void
chosen_cb (AppWeeks *weeks, AppCalendarPage *self)
{
  if (self->agenda != NULL && in_weeks (self))
    fill_list (self);
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (self->list_scroller), 0);
}

static void
opened_cb (AppWeeks *weeks, AppCalendarPage *self)
{
  (void) app_calendar_list_focus (self->list);
}

static void
animal_cb (AppWeeks *weeks, DeskSubject *subject, AppCalendarPage *self)
{
  AppWindow *window = app_window_of (self);

  if (window != NULL)
    app_window_show_animal (window, desk_subject_id (subject));
}

static void
step_cb (AppCalendarList *list, int step, AppCalendarPage *self)
{
  app_weeks_choose (self->weeks, app_weeks_chosen (self->weeks) + step);
  if (!app_calendar_list_focus (self->list)) /* nothing is to be done on that day */
    gtk_widget_grab_focus (GTK_WIDGET (self->weeks));
}

/* ---- seen or not ---- */

static void
painted_cb (GdkFrameClock *clock, AppCalendarPage *self)
{
  app_calendar_list_set_seen (self->list, TRUE);
  g_clear_signal_handler (&self->painted, clock);
}

static void
map_cb (AppCalendarPage *self)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (GTK_WIDGET (self));

  app_calendar_list_set_seen (self->list, FALSE);
  refresh (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (self->painted == 0)
    self->painted = g_signal_connect_object (clock, "after-paint", G_CALLBACK (painted_cb), self, 0);
}

static void
unmap_cb (AppCalendarPage *self)
{
  stop_making (self);
  g_clear_signal_handler (&self->painted, gtk_widget_get_frame_clock (GTK_WIDGET (self)));
}

/* On the first task, not on the choices above it. */
static gboolean
focus (AppDeskPage *page)
{
  AppCalendarPage *self = APP_CALENDAR_PAGE (page);

  return app_calendar_list_focus (self->list) || (in_weeks (self) && gtk_widget_grab_focus (GTK_WIDGET (self->weeks)));
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

/* ---- object ---- */

static void
desk_set (AppDeskPage *page)
{
  AppCalendarPage *self = APP_CALENDAR_PAGE (page);

  self->n_days = FIRST_DAYS;
  stop_making (self);
  if (app_desk_page_desk (self) == NULL)
    {
      WordsView view = { 0 };

      self->days = NULL;
      app_weeks_set (self->weeks, NULL, &view);
    }
  refresh (self);
}

static void
dispose (GObject *object)
{
  AppCalendarPage *self = APP_CALENDAR_PAGE (object);

  stop_making (self);
  app_template_dispose (GTK_WIDGET (self), APP_TYPE_CALENDAR_PAGE); /* first the rows, which use these */
  g_clear_pointer (&self->agenda, desk_agenda_free);
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
  g_type_ensure (APP_TYPE_CALENDAR_FILTER);
  g_type_ensure (APP_TYPE_CALENDAR_LIST);
  g_type_ensure (APP_TYPE_COLUMNS);
  g_type_ensure (APP_TYPE_WEEKS);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/calendar-page.ui");
  gtk_widget_class_bind_template_child (widget_class, AppCalendarPage, sentence);
  gtk_widget_class_bind_template_child (widget_class, AppCalendarPage, keys);
  gtk_widget_class_bind_template_child (widget_class, AppCalendarPage, filter);
  gtk_widget_class_bind_template_child (widget_class, AppCalendarPage, as_weeks);
  gtk_widget_class_bind_template_child (widget_class, AppCalendarPage, as_list);
  gtk_widget_class_bind_template_child (widget_class, AppCalendarPage, columns);
  gtk_widget_class_bind_template_child (widget_class, AppCalendarPage, weeks_scroller);
  gtk_widget_class_bind_template_child (widget_class, AppCalendarPage, weeks);
  gtk_widget_class_bind_template_child (widget_class, AppCalendarPage, list_scroller);
  gtk_widget_class_bind_template_child (widget_class, AppCalendarPage, list);
  gtk_widget_class_bind_template_child (widget_class, AppCalendarPage, more);
}

static void
app_calendar_page_init (AppCalendarPage *self)
{
  self->n_days = FIRST_DAYS;
  gtk_widget_init_template (GTK_WIDGET (self));
  if (app_settings () != NULL && g_settings_get_boolean (app_settings (), "calendar-list"))
    gtk_toggle_button_set_active (self->as_list, TRUE);
  set_way (self);
  g_signal_connect_object (self->as_weeks, "notify::active", G_CALLBACK (way_cb), self, 0);
  g_signal_connect_object (self->filter, "changed", G_CALLBACK (filter_cb), self, 0);
  g_signal_connect_object (self->weeks, "chosen", G_CALLBACK (chosen_cb), self, 0);
  g_signal_connect_object (self->weeks, "opened", G_CALLBACK (opened_cb), self, 0);
  g_signal_connect_object (self->weeks, "animal", G_CALLBACK (animal_cb), self, 0);
  g_signal_connect_object (self->list, "refill", G_CALLBACK (fill_list), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->list, "step", G_CALLBACK (step_cb), self, 0);
  g_signal_connect_object (self->more, "clicked", G_CALLBACK (more_cb), self, 0);
  g_signal_connect (self, "map", G_CALLBACK (map_cb), NULL);
  g_signal_connect (self, "unmap", G_CALLBACK (unmap_cb), NULL);
}

GtkWidget *
app_calendar_page_new (void)
{
  return g_object_new (APP_TYPE_CALENDAR_PAGE, NULL);
}
