/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-what-if.c — see app-what-if.h. */
#include "app/app-what-if.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-drop-down.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "desk/desk-what-if.h"

struct _AppWhatIf
{
  GtkWidget parent_instance;

  /* Template children, borrowed */
  GtkExpander *expander;
  GtkDropDown *shelf; /* the first row: where it stands */
  GtkEditable *day;
  GtkEditable *night;
  GtkEditable *feed;
  GtkLabel *moult;
  GtkLabel *meal;
  GtkLabel *caution;

  /* Owned */
  Desk *desk;
  DeskSubject *subject;
  GPtrArray *places; /* DeskSubject *, those of the rows after the first */
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (AppWhatIf, app_what_if, GTK_TYPE_WIDGET)

/* ---- what is asked ---- */

/* NAN = empty; FALSE = no number. */
static gboolean
number_in (GtkEditable *editable, double *value)
{
  g_autofree char *text = g_strdelimit (g_strstrip (g_strdup (gtk_editable_get_text (editable))), ",", '.');

  *value = NAN;
  return *text == '\0' || core_number_parse (text, value);
}

static gboolean
read_ask (AppWhatIf *self, DeskWhatIf *ask)
{
  guint row = gtk_drop_down_get_selected (self->shelf);
  g_autofree char *days = g_strstrip (g_strdup (gtk_editable_get_text (self->feed)));

  *ask = desk_what_if_nothing ();
  if (row > 0 && row <= self->places->len)
    ask->place = desk_subject_id (self->places->pdata[row - 1]);
  if (!number_in (self->day, &ask->day_c) || !number_in (self->night, &ask->night_c))
    return FALSE;
  if (isnan (ask->night_c))
    ask->night_c = ask->day_c;
  return *days == '\0' || core_interval_parse (days, &ask->feed_a, &ask->feed_b);
}

/* ---- the answer ---- */

static void
say (AppWhatIf *self, const char *moult, const char *meal, const char *caution)
{
  gtk_label_set_label (self->moult, moult);
  gtk_label_set_label (self->meal, meal);
  gtk_widget_set_visible (GTK_WIDGET (self->meal), meal[0] != '\0');
  gtk_label_set_label (self->caution, caution != NULL ? caution : "");
  gtk_widget_set_visible (GTK_WIDGET (self->caution), caution != NULL);
}

static void
answer (AppWhatIf *self)
{
  DeskWhatIf nothing = desk_what_if_nothing (), ask;
  DeskWhatIfAnswer now, then;
  WordsView view;
  g_autoptr (GError) error = NULL;
  g_autofree char *moult = NULL;
  g_autofree char *meal = NULL;
  g_autofree char *caution = NULL;

  if (self->filling || self->subject == NULL || !gtk_expander_get_expanded (self->expander))
    return;
  if (!read_ask (self, &ask))
    {
      say (self, C_ ("what if", "Temperatures are numbers such as 24, days 5 or 3-5."), "", NULL);
      return;
    }
  if (!desk_what_if (self->desk, self->subject, &nothing, &now, &error) ||
      !desk_what_if (self->desk, self->subject, &ask, &then, &error))
    {
      say (self, error->message, "", NULL);
      return;
    }
  view = app_view (self->desk);
  moult = now.is_lot ? words_what_if_lot (&view, &now.lot, &then.lot, then.unknown)
                     : words_what_if_moult (&view, &now.forecast, &then.forecast, then.unknown);
  meal = words_what_if_meal (&view, now.next_meal, now.meal_after, then.next_meal, then.meal_after);
  caution = words_past (&view, &then.past);
  say (self, moult, meal, caution);
}

/* ---- object ---- */

static void
fill_shelves (AppWhatIf *self)
{
  g_autoptr (GPtrArray) places = desk_places (self->desk);
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  CoreId here = { { 0 } };

  (void) desk_subject_place (self->subject, &here, NULL);
  g_ptr_array_set_size (self->places, 0);
  gtk_string_list_append (names, C_ ("what if", "where it stands"));
  for (guint i = 0; i < places->len; i++)
    if (!core_id_equal (here, desk_subject_id (places->pdata[i])))
      {
        gtk_string_list_append (names, desk_place_name (places->pdata[i]));
        g_ptr_array_add (self->places, desk_subject_ref (places->pdata[i]));
      }
  gtk_drop_down_set_model (self->shelf, G_LIST_MODEL (names));
  gtk_drop_down_set_selected (self->shelf, 0);
}

static void
start_again (AppWhatIf *self)
{
  self->filling = TRUE;
  fill_shelves (self);
  gtk_editable_set_text (self->day, "");
  gtk_editable_set_text (self->night, "");
  gtk_editable_set_text (self->feed, "");
  self->filling = FALSE;
}

static gboolean
may_moult (const DeskSubject *subject)
{
  CoreSubjectKind kind = desk_subject_kind (subject);

  return (kind == CORE_SUBJECT_ANIMAL || kind == CORE_SUBJECT_LOT) && desk_subject_living (subject) &&
         !desk_subject_state (subject)->adult;
}

void
app_what_if_set (AppWhatIf *self, Desk *desk, DeskSubject *subject)
{
  gboolean fits = subject != NULL && may_moult (subject);
  gboolean same = fits && self->subject != NULL && self->desk == desk &&
                  core_id_equal (desk_subject_id (subject), desk_subject_id (self->subject));

  g_return_if_fail (APP_IS_WHAT_IF (self));
  if (!fits)
    desk = NULL;
  g_set_object (&self->desk, desk);
  g_clear_pointer (&self->subject, desk_subject_unref);
  gtk_widget_set_visible (GTK_WIDGET (self), fits);
  if (!fits)
    return;
  self->subject = desk_subject_ref (subject);
  if (!same)
    {
      start_again (self);
      gtk_expander_set_expanded (self->expander, FALSE);
    }
  answer (self);
}

static void
dispose (GObject *object)
{
  AppWhatIf *self = APP_WHAT_IF (object);

  g_clear_object (&self->desk);
  g_clear_pointer (&self->subject, desk_subject_unref);
  app_template_dispose (GTK_WIDGET (self), APP_TYPE_WHAT_IF);
  G_OBJECT_CLASS (app_what_if_parent_class)->dispose (object);
}

static void
finalize (GObject *object)
{
  g_ptr_array_unref (APP_WHAT_IF (object)->places);
  G_OBJECT_CLASS (app_what_if_parent_class)->finalize (object);
}

static void
app_what_if_class_init (AppWhatIfClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  G_OBJECT_CLASS (klass)->finalize = finalize;
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/what-if.ui");
  gtk_widget_class_bind_template_child (widget_class, AppWhatIf, expander);
  gtk_widget_class_bind_template_child (widget_class, AppWhatIf, shelf);
  gtk_widget_class_bind_template_child (widget_class, AppWhatIf, day);
  gtk_widget_class_bind_template_child (widget_class, AppWhatIf, night);
  gtk_widget_class_bind_template_child (widget_class, AppWhatIf, feed);
  gtk_widget_class_bind_template_child (widget_class, AppWhatIf, moult);
  gtk_widget_class_bind_template_child (widget_class, AppWhatIf, meal);
  gtk_widget_class_bind_template_child (widget_class, AppWhatIf, caution);
}

static void
app_what_if_init (AppWhatIf *self)
{
  GtkEditable *const *fields[] = { &self->day, &self->night, &self->feed };

  self->places = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_subject_unref);
  gtk_widget_init_template (GTK_WIDGET (self));
  app_drop_down_mend (self->shelf, FALSE);
  for (gsize i = 0; i < G_N_ELEMENTS (fields); i++)
    g_signal_connect_object (*fields[i], "changed", G_CALLBACK (answer), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->shelf, "notify::selected", G_CALLBACK (answer), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->expander, "notify::expanded", G_CALLBACK (answer), self, G_CONNECT_SWAPPED);
}
