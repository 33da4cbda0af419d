/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-animal-page.c — read top to bottom like a page in a notebook; see app-animal-page.h.
 *
 * Left: who, the one sentence, the keys, the timeline. Right: the next moult with
 * what moved it, what is due and why, what is known of the sex. */
#include "app/app-animal-page.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-animal-plots.h"
#include "app/app-care.h"
#include "app/app-columns.h"
#include "app/app-danger.h"
#include "app/app-fasting.h"
#include "app/app-ended.h"
#include "app/app-photo-row.h"
#include "app/app-proof.h"
#include "app/app-quick.h"
#include "app/app-range-chart.h"
#include "app/app-symbol.h"
#include "app/app-timeline.h"
#include "app/app-told.h"
#include "app/app-view.h"
#include "app/app-what-if.h"
#include "app/app-widgets.h"
#include "app/app-window.h"
#include "desk/desk-photos.h"

struct _AppAnimalPage
{
  AppDeskPage parent_instance;

  /* Template children, borrowed */
  GtkWidget *scroller;
  GtkLabel *number;
  GtkLabel *kind;
  GtkLabel *origin;
  GtkBox *told; /* by whom it came from, in their words */
  GtkLabel *sentence;
  GtkBox *fasting;   /* what is the matter if it refuses */
  GtkBox *conflicts; /* what cannot all be true */
  AppQuick *quick; /* of an animal */
  AppCare *care;   /* of a lot, an egg case, a culture */
  AppEnded *ended;
  GtkLabel *quick_heading;
  AppTimeline *timeline;
  GtkLabel *next;
  GtkLabel *range;
  GtkLabel *chances;
  AppRangeChart *chart;
  GtkBox *moved;
  AppWhatIf *what_if;
  GtkBox *due;
  GtkBox *sex;
  GtkBox *photos;
  GtkBox *size;
  GtkBox *plots;

  /* Owned */
  DeskSubject *subject;
};

G_DEFINE_FINAL_TYPE (AppAnimalPage, app_animal_page, APP_TYPE_DESK_PAGE)

/* ---- left ---- */

/* The Latin name has a line of its own: it is long, and the rest would break behind a dot. */
static char *
origin_text (AppAnimalPage *self, const WordsView *view)
{
  const CoreState *state = desk_subject_state (self->subject);
  GString *text = g_string_new (NULL);
  g_autofree char *origin = NULL;
  CoreId shelf;

  if (state->hatched)
    {
      g_autofree char *day = words_day (view, state->hatched_day, WORDS_DAY_SHORT);

      g_string_append_printf (text, C_ ("animal", "%shatched %s"), text->len > 0 ? " · " : "", day);
    }
  if (core_state_setting (state, "origin") != NULL)
    {
      g_autofree char *from = words_setting_value (view, "origin", core_state_setting (state, "origin"));

      g_string_append_printf (text, "%s%s", text->len > 0 ? " · " : "", from);
    }
  if (core_state_setting (state, "locality") != NULL)
    g_string_append_printf (text, "%s%s", text->len > 0 ? " · " : "", core_state_setting (state, "locality"));
  if (state->acquired != CORE_DAY_NONE)
    {
      g_autofree char *day = words_day (view, state->acquired, WORDS_DAY_SHORT);

      g_string_append_printf (text, C_ ("animal", "%scame %s"), text->len > 0 ? " · " : "", day);
    }
  if (desk_subject_shelf (self->subject, &shelf))
    {
      g_autoptr (DeskSubject) place = desk_get (app_desk_page_desk (self), shelf);

      g_string_append_printf (text, "%s%s", text->len > 0 ? " · " : "", desk_place_name (place));
    }
  origin = g_string_free (text, FALSE);
  if (state->species[0] == '\0' || !desk_subject_species_known (self->subject))
    return g_steal_pointer (&origin);
  return g_strdup_printf ("%s%s%s", desk_subject_profile (self->subject)->scientific, origin[0] != '\0' ? "\n" : "", origin);
}

static gboolean
is_animal (AppAnimalPage *self)
{
  return desk_subject_kind (self->subject) == CORE_SUBJECT_ANIMAL;
}

/* An undecided sex stands in the sentence: a question mark here would seem to doubt the kind. */
static char *
kind_text (AppAnimalPage *self)
{
  const CoreSexVerdict *verdict = desk_subject_verdict (self->subject);
  const char *name = desk_subject_state (self->subject)->name;
  gboolean known = verdict->verdict != CORE_VERDICT_UNDECIDED;

  return g_strdup_printf ("%s%s%s%s%s", app_species_name (self->subject), known ? " " : "",
                          known ? words_sex_sign (verdict->verdict) : "", name[0] != '\0' ? " · " : "", name);
}

static void
fill_head (AppAnimalPage *self, const WordsView *view)
{
  const CoreState *state = desk_subject_state (self->subject);
  const CoreSexVerdict *verdict = desk_subject_verdict (self->subject);
  g_autofree char *kind = NULL;
  g_autofree char *other = is_animal (self) ? NULL : app_other_kind (self->subject);
  g_autofree char *origin = origin_text (self, view);
  g_autofree char *sentence
    = is_animal (self) ? words_animal (view, state, verdict, desk_subject_forecast (self->subject),
                                       &desk_subject_plan (self->subject)->hold)
                       : app_other_sentence (app_desk_page_desk (self), self->subject);

  kind = is_animal (self) ? kind_text (self) : app_capitalised (other);
  gtk_label_set_label (self->number, desk_subject_label (self->subject));
  gtk_label_set_label (self->kind, kind);
  gtk_label_set_label (self->origin, origin);
  app_told_fill (self->told, view, app_desk_page_desk (self), self->subject);
  gtk_label_set_label (self->sentence, sentence);
  app_fasting_fill (self->fasting, view, self->subject);
  app_box_empty (self->conflicts);
  for (size_t i = 0; i < state->conflicts.n; i++)
    {
      g_autofree char *one = words_conflict (view, &state->conflicts.v[i]);

      app_text (GTK_WIDGET (self->conflicts), one, "trouble");
    }
}

/* ---- right ---- */

static void
fill_moved (AppAnimalPage *self, const WordsView *view, const CoreForecast *forecast)
{
  app_box_empty (self->moved);
  if (forecast->why != CORE_NO_FORECAST_NONE || forecast->n_reasons == 0)
    return;
  app_heading (GTK_WIDGET (self->moved), C_ ("animal", "What moved it"));
  for (size_t i = 0; i < forecast->n_reasons; i++)
    {
      const CoreReason *reason = &forecast->reasons[i];
      g_autofree char *words = words_reason (view, reason);
      g_autofree char *shift = reason->has_shift ? words_shift (view->lang, reason->shift_days) : g_strdup ("");
      GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
      GtkLabel *left = app_text (row, words, NULL);
      GtkLabel *right = app_text (row, shift, "dim");

      gtk_widget_set_hexpand (GTK_WIDGET (left), TRUE);
      gtk_label_set_wrap (right, FALSE);
      gtk_widget_set_valign (GTK_WIDGET (right), GTK_ALIGN_START);
      gtk_box_append (self->moved, row);
    }
}

/* Days as a heading; a sentence where there are none to give. */
static void
set_range (AppAnimalPage *self, const char *text, gboolean days)
{
  g_autofree char *capital = app_capitalised (text);

  gtk_label_set_label (self->range, capital);
  gtk_widget_remove_css_class (GTK_WIDGET (self->range), days ? "sentence" : "range");
  gtk_widget_add_css_class (GTK_WIDGET (self->range), days ? "range" : "sentence");
}

/* A lot has three of them, told in words. */
static void
fill_lot_forecast (AppAnimalPage *self, const WordsView *view)
{
  g_autofree char *words = words_lot_forecast (view, desk_subject_lot_forecast (self->subject));
  g_autofree char *text = app_capitalised (words);

  set_range (self, text, FALSE);
}

/* What a lot is good for. */
static void
fill_pair (AppAnimalPage *self, const WordsView *view)
{
  CorePair pair = core_pair_of_lot (desk_subject_state (self->subject), desk_subject_profile (self->subject));
  g_autofree char *text = words_pair (view, &pair);

  if (text != NULL)
    app_text (GTK_WIDGET (self->moved), text, NULL);
}

static void
fill_other_forecast (AppAnimalPage *self, const WordsView *view)
{
  gboolean lot = desk_subject_kind (self->subject) == CORE_SUBJECT_LOT;

  gtk_widget_set_visible (GTK_WIDGET (self->next), lot);
  gtk_widget_set_visible (GTK_WIDGET (self->range), lot);
  gtk_widget_set_visible (GTK_WIDGET (self->chances), FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self->chart), FALSE);
  app_box_empty (self->moved);
  if (!lot)
    return;
  fill_lot_forecast (self, view);
  app_heading (GTK_WIDGET (self->moved), C_ ("animal", "How many"));
  {
    g_autoptr (GPtrArray) rows = words_tally (view, &desk_subject_state (self->subject)->tally);

    for (guint i = 0; i < rows->len; i++)
      app_text (GTK_WIDGET (self->moved), g_ptr_array_index (rows, i), i + 1 < rows->len ? NULL : "dim");
  }
  fill_pair (self, view);
}

static void
fill_forecast (AppAnimalPage *self, const WordsView *view)
{
  const CoreForecast *forecast = desk_subject_forecast (self->subject);
  gboolean has = forecast->why == CORE_NO_FORECAST_NONE;
  gboolean days = words_forecast_has_days (forecast) && !core_state_looks_dead (desk_subject_state (self->subject));
  gboolean rough = words_forecast_rough (desk_subject_state (self->subject), desk_subject_species_known (self->subject));
  g_autofree char *range
    = days ? words_forecast_range (view, forecast)
           : words_forecast_of (view, desk_subject_state (self->subject), forecast);
  g_autofree char *chances = has ? words_chances (view, forecast) : g_strdup ("");

  gtk_widget_set_visible (GTK_WIDGET (self->next), TRUE);
  gtk_widget_set_visible (GTK_WIDGET (self->range), TRUE);
  set_range (self, range, days);
  if (days && rough)
    {
      g_autofree char *plain = g_steal_pointer (&chances);

      chances = g_strdup_printf (C_ ("animal", "A rough guess: kind or stage is not known. %s"), plain);
    }
  gtk_label_set_label (self->chances, chances);
  gtk_widget_set_visible (GTK_WIDGET (self->chances), days || (has && forecast->probably_moulted));
  app_range_chart_set (self->chart, app_desk_page_desk (self), forecast);
  gtk_widget_set_visible (GTK_WIDGET (self->chart), days);
  fill_moved (self, view, forecast);
  if (forecast->has_adult && days)
    {
      g_autofree char *adult = words_adult (view, forecast);

      app_text (GTK_WIDGET (self->moved), adult, "dim");
    }
}

static void
add_due (AppAnimalPage *self, const char *symbol, const char *css, const char *title, const char *when, const char *why)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *sign = app_symbol_new (symbol, 18);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  g_autofree char *capital = app_capitalised (title);
  g_autofree char *head = when != NULL ? g_strdup_printf ("%s · %s", capital, when) : g_strdup (capital);

  gtk_widget_add_css_class (sign, css);
  gtk_widget_set_valign (sign, GTK_ALIGN_START);
  gtk_widget_set_margin_top (sign, 2);
  gtk_box_append (GTK_BOX (row), sign);
  app_text (words, head, "strong");
  if (why[0] != '\0')
    app_text (words, why, "dim");
  gtk_box_append (GTK_BOX (row), words);
  gtk_box_append (self->due, row);
}

/* Food and water that wait though it is not left alone: put off, or ill. That it stands too cold is a
 * task of its own, which says so. */
static void
add_held (AppAnimalPage *self, const WordsView *view, const CoreHeld *held)
{
  gboolean said = held->n_reasons > 0 && g_str_equal (held->reasons[0].rule, "climate.stands_cold");
  g_autofree char *title = words_held (view, held);
  g_autofree char *why = app_reasons_text (view, held->reasons, held->n_reasons);

  if (!said && (held->kind == CORE_TASK_FEED || held->kind == CORE_TASK_MIST || held->kind == CORE_TASK_WATER))
    add_due (self, "leave", "veil", title, NULL, why);
}

static void
fill_due (AppAnimalPage *self, const WordsView *view)
{
  const CorePlan *plan = desk_subject_plan (self->subject);
  guint shown = 0;

  app_box_empty (self->due);
  if (!desk_subject_living (self->subject))
    return;
  app_heading (GTK_WIDGET (self->due), C_ ("animal", "Due"));
  app_danger_add (self->due, view, plan);
  if (plan->hold.kind != CORE_HOLD_NONE)
    {
      g_autofree char *title = words_hold (view, &plan->hold);
      g_autofree char *why = app_reasons_text (view, plan->hold.reasons, plan->hold.n_reasons);

      add_due (self, "leave", "veil", title, NULL, why);
    }
  for (size_t i = 0; i < plan->held.n && plan->hold.kind == CORE_HOLD_NONE; i++)
    add_held (self, view, &plan->held.v[i]);
  for (size_t i = 0; i < plan->tasks.n && shown < 8; i++)
    {
      const CoreTask *task = &plan->tasks.v[i];
      g_autofree char *title = NULL;
      g_autofree char *when = NULL;
      g_autofree char *why = NULL;

      if (task->earliest > view->today + 3)
        continue;
      shown++;
      if (app_is_danger (task)) /* stands before all */
        continue;
      title = words_task_title (view, task);
      when = words_task_when (view, task);
      why = app_reasons_text (view, task->reasons, task->n_reasons);
      add_due (self, app_task_symbol (task->kind), task->due <= view->today ? "due" : "dim", title, when, why);
    }
  if (shown == 0)
    app_text (GTK_WIDGET (self->due), C_ ("animal", "Nothing in the next days."), "dim");
}

static void
fill_sex (AppAnimalPage *self, const WordsView *view)
{
  const CoreSexVerdict *verdict = desk_subject_verdict (self->subject);
  g_autofree char *words = words_verdict (view, verdict, desk_subject_forecast (self->subject));
  g_auto (GStrv) asks = words_asks (view, verdict->ask);

  app_box_empty (self->sex);
  if (!is_animal (self))
    return;
  app_heading (GTK_WIDGET (self->sex), C_ ("animal", "Sex"));
  app_text (GTK_WIDGET (self->sex), words, "strong");
  for (size_t i = 0; i < verdict->n; i++)
    {
      g_autofree char *one = words_evidence (view, &verdict->evidence[i]);

      app_text (GTK_WIDGET (self->sex), one, "dim");
    }
  for (gsize i = 0; verdict->n > 0 && asks[i] != NULL; i++)
    app_text (GTK_WIDGET (self->sex), asks[i], NULL);
}

#define SHOWN_PHOTOS 4

static GtkWidget *
gallery_button (size_t n)
{
  g_autofree char *label = g_strdup_printf (C_ ("animal", "All %zu by stage"), n);
  GtkWidget *button = gtk_button_new_with_label (label);

  gtk_widget_add_css_class (button, "quiet");
  gtk_widget_add_css_class (button, "flush");
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (button, C_ ("animal", "Gallery: Ctrl+G"));
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "win.gallery");
  return button;
}

static void
fill_photos (AppAnimalPage *self, const WordsView *view)
{
  const CoreState *state = desk_subject_state (self->subject);

  app_box_empty (self->photos);
  if (state->photos.n == 0)
    return;
  app_heading (GTK_WIDGET (self->photos), C_ ("animal", "Photos, latest first"));
  gtk_box_append (self->photos, gallery_button (state->photos.n));
  for (size_t i = 0; i < state->photos.n && i < SHOWN_PHOTOS; i++)
    {
      const CorePhotoRef *photo = &state->photos.v[state->photos.n - 1 - i];
      g_autofree char *day = words_day (view, photo->day, WORDS_DAY_SHORT);
      g_autofree char *words = g_strdup_printf (C_ ("animal", "photo of %s"), day);

      gtk_box_append (self->photos, app_photo_row_new (app_desk_page_desk (self), desk_subject_id (self->subject), photo->entry, 168, words));
      app_text (GTK_WIDGET (self->photos), words, "dim");
    }
}

static void
fill_size (AppAnimalPage *self, const WordsView *view)
{
  const CoreState *state = desk_subject_state (self->subject);
  CoreGrowth next = desk_growth (app_desk_page_desk (self), self->subject, CORE_DIM_BODY, -1);

  app_box_empty (self->size);
  if (!is_animal (self) || !next.known || state->adult || !desk_subject_living (self->subject))
    return;
  app_heading (GTK_WIDGET (self->size), C_ ("animal", "Size after the next moult"));
  {
    g_autofree char *words = words_growth (view, &next, CORE_DIM_BODY);

    app_text (GTK_WIDGET (self->size), words, NULL);
  }
}

static void
refresh (AppAnimalPage *self)
{
  WordsView view;

  gtk_widget_set_visible (self->scroller, self->subject != NULL);
  if (app_desk_page_desk (self) == NULL || self->subject == NULL)
    return;
  view = app_view (app_desk_page_desk (self));
  fill_head (self, &view);
  if (is_animal (self))
    fill_forecast (self, &view);
  else
    fill_other_forecast (self, &view);
  fill_due (self, &view);
  fill_sex (self, &view);
  fill_photos (self, &view);
  fill_size (self, &view);
  app_animal_plots_fill (self->plots, app_desk_page_desk (self), self->subject);
  app_what_if_set (self->what_if, app_desk_page_desk (self), self->subject);
  app_quick_set_subject (self->quick, app_desk_page_desk (self), is_animal (self) ? self->subject : NULL);
  app_care_set_subject (self->care, app_desk_page_desk (self), self->subject);
  app_ended_set_subject (self->ended, app_desk_page_desk (self), self->subject);
  gtk_widget_set_visible (GTK_WIDGET (self->quick_heading), desk_subject_living (self->subject));
  app_timeline_set (self->timeline, app_desk_page_desk (self), self->subject);
}

static void
reload (AppAnimalPage *self)
{
  CoreId id;

  if (app_desk_page_desk (self) == NULL || self->subject == NULL)
    return;
  id = desk_subject_id (self->subject);
  g_clear_pointer (&self->subject, desk_subject_unref);
  self->subject = desk_get (app_desk_page_desk (self), id);
  refresh (self);
}

static void
changed (AppDeskPage *page, DeskSubject *subject)
{
  reload (APP_ANIMAL_PAGE (page));
}

static void
today_changed (AppDeskPage *page)
{
  reload (APP_ANIMAL_PAGE (page));
}

/* A group is picked out: where the page is one column, its entries are far below. */
static gboolean
pick_group (AppAnimalPage *self, guint keyval)
{
  double x, y;

  if (!app_timeline_key (self->timeline, keyval))
    return FALSE;
  if (gtk_widget_translate_coordinates (GTK_WIDGET (self->timeline), self->scroller, 0, 0, &x, &y))
    {
      GtkAdjustment *adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller));

      if (y < 0 || y > gtk_widget_get_height (self->scroller) / 2.)
        gtk_adjustment_set_value (adjustment, gtk_adjustment_get_value (adjustment) + y);
    }
  return TRUE;
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppAnimalPage *self)
{
  GtkWidget *focus = GTK_WIDGET (gtk_root_get_focus (gtk_widget_get_root (GTK_WIDGET (self))));

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) == GDK_ALT_MASK)
    return pick_group (self, keyval);
  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0 || (focus != NULL && GTK_IS_EDITABLE (focus)))
    return GDK_EVENT_PROPAGATE;
  return app_animal_page_key (self, keyval);
}

static gboolean
drop_cb (GtkDropTarget *target, const GValue *value, double x, double y, AppAnimalPage *self)
{
  GSList *files = gdk_file_list_get_files (g_value_get_boxed (value));
  gboolean any = files != NULL;

  for (GSList *l = files; l != NULL; l = l->next)
    app_quick_attach (self->quick, l->data);
  g_slist_free (files);
  return any;
}

/* ---- object ---- */

static void
desk_set (AppDeskPage *page)
{
  AppAnimalPage *self = APP_ANIMAL_PAGE (page);

  g_clear_pointer (&self->subject, desk_subject_unref);
  app_timeline_set (self->timeline, NULL, NULL);
  app_quick_set_subject (self->quick, NULL, NULL);
  app_care_set_subject (self->care, NULL, NULL);
  app_ended_set_subject (self->ended, NULL, NULL);
  app_what_if_set (self->what_if, NULL, NULL);
  refresh (self);
}

/* On the page itself, not on one of its buttons. */
static gboolean
focus (AppDeskPage *page)
{
  return gtk_widget_grab_focus (APP_ANIMAL_PAGE (page)->scroller);
}

static void
dispose (GObject *object)
{
  AppAnimalPage *self = APP_ANIMAL_PAGE (object);

  g_clear_pointer (&self->subject, desk_subject_unref);
  app_template_dispose (GTK_WIDGET (self), APP_TYPE_ANIMAL_PAGE);
  G_OBJECT_CLASS (app_animal_page_parent_class)->dispose (object);
}

/* Of the latest picture that is marked: after a record one is here again. */
static void
proof_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppAnimalPage *self = APP_ANIMAL_PAGE (widget);
  AppWindow *window = app_window_of (self);
  const CoreState *state = self->subject != NULL ? desk_subject_state (self->subject) : NULL;
  size_t n = state != NULL ? state->photos.n : 0;

  while (n > 0 && !desk_photo_marked (app_desk_page_desk (self), desk_subject_id (self->subject), state->photos.v[n - 1].entry))
    n--;
  if (n > 0 && window != NULL)
    app_proof_save_photo (window, state->photos.v[n - 1].entry);
  else if (window != NULL)
    app_window_say (window, C_ ("proof", "No picture of it is counted yet: C counts the plates, and then there is a proof "
                                         "sheet."));
}

static void
app_animal_page_class_init (AppAnimalPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  APP_DESK_PAGE_CLASS (klass)->focus = focus;
  APP_DESK_PAGE_CLASS (klass)->desk_set = desk_set;
  APP_DESK_PAGE_CLASS (klass)->changed = changed;
  APP_DESK_PAGE_CLASS (klass)->today_changed = today_changed;
  gtk_widget_class_install_action (widget_class, "animal.proof", NULL, proof_cb);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_s, GDK_CONTROL_MASK, "animal.proof", NULL);
  g_type_ensure (APP_TYPE_CARE);
  g_type_ensure (APP_TYPE_COLUMNS);
  g_type_ensure (APP_TYPE_ENDED);
  g_type_ensure (APP_TYPE_QUICK);
  g_type_ensure (APP_TYPE_RANGE_CHART);
  g_type_ensure (APP_TYPE_TIMELINE);
  g_type_ensure (APP_TYPE_WHAT_IF);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/animal-page.ui");
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, number);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, kind);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, origin);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, told);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, sentence);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, fasting);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, conflicts);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, quick);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, care);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, ended);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, quick_heading);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, timeline);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, range);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, next);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, chances);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, chart);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, moved);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, what_if);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, due);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, sex);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, photos);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, size);
  gtk_widget_class_bind_template_child (widget_class, AppAnimalPage, plots);
}

static void
app_animal_page_init (AppAnimalPage *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkDropTarget *drop = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);

  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  g_signal_connect_object (drop, "drop", G_CALLBACK (drop_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drop));
  refresh (self);
}

GtkWidget *
app_animal_page_new (void)
{
  return g_object_new (APP_TYPE_ANIMAL_PAGE, NULL);
}

static gboolean
to_top_cb (gpointer scroller)
{
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scroller)), 0);
  return G_SOURCE_REMOVE;
}

void
app_animal_page_set_animal (AppAnimalPage *self, CoreId animal)
{
  g_return_if_fail (APP_IS_ANIMAL_PAGE (self));

  g_clear_pointer (&self->subject, desk_subject_unref);
  if (app_desk_page_desk (self) != NULL)
    self->subject = desk_get (app_desk_page_desk (self), animal);
  refresh (self);
  /* Once the new page has its size; before that the old place would come back. */
  g_idle_add_full (G_PRIORITY_LOW, to_top_cb, g_object_ref (self->scroller), g_object_unref);
}

CoreId
app_animal_page_animal (AppAnimalPage *self)
{
  CoreId none = { { 0 } };

  g_return_val_if_fail (APP_IS_ANIMAL_PAGE (self), none);
  return self->subject != NULL ? desk_subject_id (self->subject) : none;
}

gboolean
app_animal_page_key (AppAnimalPage *self, guint keyval)
{
  g_return_val_if_fail (APP_IS_ANIMAL_PAGE (self), FALSE);
  if (self->subject == NULL)
    return FALSE;
  return is_animal (self) ? app_quick_key (self->quick, keyval) : app_care_key (self->care, keyval);
}
