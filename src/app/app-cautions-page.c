/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-cautions-page.c — see app-cautions-page.h. */
#include "app/app-cautions-page.h"

#include <glib/gi18n.h>

#include "app/app-widgets.h"
#include "app/app-window.h"

struct _AppCautionsPage
{
  AppDeskPage parent_instance;

  /* Template children, borrowed */
  GtkWidget *scroller;
  GtkLabel *switches_note;
  GtkBox *rows;

  GtkWidget *switches[WORDS_N_CAUTIONS]; /* NULL: its line is shown nowhere */
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (AppCautionsPage, app_cautions_page, APP_TYPE_DESK_PAGE)

/* Those whose line stands somewhere in the window; a switch of the others would do nothing. */
static const WordsCaution with_line[] = {
  WORDS_CAUTION_HEAT,    WORDS_CAUTION_ELECTRICITY, WORDS_CAUTION_CLEANING, WORDS_CAUTION_ALLERGY,
  WORDS_CAUTION_RELEASE, WORDS_CAUTION_POST,        WORDS_CAUTION_CRICKETS, WORDS_CAUTION_PHOTO,
};

/* What the journal says, whatever was pressed. */
static void
refresh (AppDeskPage *page)
{
  AppCautionsPage *self = APP_CAUTIONS_PAGE (page);
  Desk *desk = app_desk_page_desk (self);

  self->filling = TRUE;
  for (int i = 0; i < WORDS_N_CAUTIONS; i++)
    if (self->switches[i] != NULL)
      {
        gtk_widget_set_visible (self->switches[i], desk != NULL);
        gtk_widget_set_sensitive (self->switches[i], desk != NULL && !desk_read_only (desk));
        gtk_switch_set_active (GTK_SWITCH (self->switches[i]),
                               desk == NULL || desk_caution_on (desk, (WordsCaution) i));
      }
  gtk_widget_set_visible (GTK_WIDGET (self->switches_note), desk != NULL);
  self->filling = FALSE;
}

static void
changed (AppDeskPage *page, DeskSubject *subject)
{
  if (subject == NULL || desk_subject_kind (subject) == CORE_SUBJECT_JOURNAL)
    refresh (page);
}

static void
written_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppCautionsPage) self = data;
  g_autoptr (GError) error = NULL;
  AppWindow *window = app_window_of (self);
  CoreId id;

  if (!desk_record_finish (DESK_DESK (source), result, &id, &error) && window != NULL)
    app_window_say_error (window, error);
  else if (window != NULL)
    app_window_say (window, C_ ("form", "Saved. Ctrl+Z takes it back."));
  refresh (APP_DESK_PAGE (self));
}

static void
switched_cb (GtkSwitch *knob, GParamSpec *pspec, AppCautionsPage *self)
{
  Desk *desk = app_desk_page_desk (self);
  WordsCaution caution = (WordsCaution) GPOINTER_TO_INT (g_object_get_data (G_OBJECT (knob), "caution"));
  g_autofree char *key = g_strdup_printf ("key=caution.%s", words_caution_id (caution));
  const char *value = gtk_switch_get_active (knob) ? "value=on" : "value=off";

  if (self->filling || desk == NULL)
    return;
  desk_record_async (desk, desk_journal_id (desk), "set", (const char *const[]){ key, value, NULL }, desk_today (desk),
                     CORE_DAY_NONE, -1, NULL, written_cb, g_object_ref (self));
}

static GtkWidget *
switch_new (AppCautionsPage *self, WordsCaution caution, const char *title)
{
  GtkWidget *knob = gtk_switch_new ();
  /* Translators: a switch; %s is the title of a caution */
  g_autofree char *name = g_strdup_printf (C_ ("cautions", "%s: show its line where the matter comes up"), title);

  gtk_widget_set_valign (knob, GTK_ALIGN_CENTER);
  gtk_widget_set_tooltip_text (knob, name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (knob), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_object_set_data (G_OBJECT (knob), "caution", GINT_TO_POINTER (caution));
  g_signal_connect_object (knob, "notify::active", G_CALLBACK (switched_cb), self, 0);
  return knob;
}

static void
add_caution (AppCautionsPage *self, WordsCaution caution)
{
  WordsParagraph words = words_caution (WORDS_LOCAL, caution);
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkLabel *title = app_text (head, words.title, "strong");

  gtk_widget_set_hexpand (GTK_WIDGET (title), TRUE);
  gtk_widget_set_margin_top (head, 12);
  for (gsize i = 0; i < G_N_ELEMENTS (with_line); i++)
    if (with_line[i] == caution)
      {
        self->switches[caution] = switch_new (self, caution, words.title);
        gtk_box_append (GTK_BOX (head), self->switches[caution]);
      }
  gtk_box_append (self->rows, head);
  gtk_label_set_max_width_chars (app_text (GTK_WIDGET (self->rows), words.body, NULL), 68);
}

/* It begins on the page, not on a switch that would write. */
static gboolean
focus (AppDeskPage *page)
{
  return gtk_widget_grab_focus (APP_CAUTIONS_PAGE (page)->scroller);
}

static void
dispose (GObject *object)
{
  app_template_dispose (GTK_WIDGET (object), APP_TYPE_CAUTIONS_PAGE);
  G_OBJECT_CLASS (app_cautions_page_parent_class)->dispose (object);
}

static void
app_cautions_page_class_init (AppCautionsPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  APP_DESK_PAGE_CLASS (klass)->focus = focus;
  APP_DESK_PAGE_CLASS (klass)->desk_set = refresh;
  APP_DESK_PAGE_CLASS (klass)->changed = changed;
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/cautions-page.ui");
  gtk_widget_class_bind_template_child (widget_class, AppCautionsPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, AppCautionsPage, switches_note);
  gtk_widget_class_bind_template_child (widget_class, AppCautionsPage, rows);
}

static void
app_cautions_page_init (AppCautionsPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  for (int i = 0; i < WORDS_N_CAUTIONS; i++)
    add_caution (self, (WordsCaution) i);
  refresh (APP_DESK_PAGE (self));
}

GtkWidget *
app_cautions_page_new (void)
{
  return g_object_new (APP_TYPE_CAUTIONS_PAGE, NULL);
}
