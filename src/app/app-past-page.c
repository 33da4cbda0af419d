/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-past-page.c — a plain list, latest first; see app-past-page.h. */
#include "app/app-past-page.h"

#include <glib/gi18n.h>

#include "app/app-ended.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-window.h"

struct _AppPastPage
{
  AppDeskPage parent_instance;

  /* Template children, borrowed */
  GtkListBox *list;
  GtkLabel *none;
};

G_DEFINE_FINAL_TYPE (AppPastPage, app_past_page, APP_TYPE_DESK_PAGE)

static char *
ended_words (Desk *desk, DeskSubject *subject)
{
  const CoreState *state = desk_subject_state (subject);

  return app_entry_line (desk, subject, state->end_day, desk_entry (desk, state->end_entry));
}

static void
add_row (AppPastPage *self, DeskSubject *subject)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 18);
  GtkWidget *number = gtk_label_new (desk_subject_label (subject));
  GtkWidget *species = gtk_label_new (app_species_name (subject));
  g_autofree char *ended = ended_words (app_desk_page_desk (self), subject);
  GtkWidget *words = gtk_label_new (ended);
  GtkWidget *ended_row = app_ended_new ();
  g_autofree char *label = g_strdup_printf ("%s, %s, %s", desk_subject_label (subject), app_species_name (subject), ended);
  CoreId id = desk_subject_id (subject);

  gtk_widget_add_css_class (box, "past-row"); /* as high with a button as without */
  gtk_widget_add_css_class (number, "strong");
  gtk_widget_add_css_class (number, "numbers");
  gtk_label_set_width_chars (GTK_LABEL (number), 6);
  gtk_label_set_xalign (GTK_LABEL (number), 0);
  gtk_label_set_width_chars (GTK_LABEL (species), 24);
  gtk_label_set_xalign (GTK_LABEL (species), 0);
  gtk_label_set_ellipsize (GTK_LABEL (species), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (words, "dim");
  gtk_label_set_xalign (GTK_LABEL (words), 0);
  gtk_label_set_wrap (GTK_LABEL (words), TRUE);
  gtk_box_append (GTK_BOX (box), number);
  gtk_box_append (GTK_BOX (box), species);
  gtk_widget_set_hexpand (words, TRUE);
  app_ended_set_subject (APP_ENDED (ended_row), app_desk_page_desk (self), subject);
  gtk_box_append (GTK_BOX (box), words);
  gtk_box_append (GTK_BOX (box), ended_row);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_object_set_data_full (G_OBJECT (row), "animal", g_memdup2 (&id, sizeof id), g_free);
  gtk_list_box_append (self->list, row);
}

static void
refresh (AppPastPage *self)
{
  g_autoptr (GPtrArray) past = NULL;
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->list))) != NULL)
    gtk_list_box_remove (self->list, child);
  if (app_desk_page_desk (self) == NULL)
    return;
  past = desk_past_animals (app_desk_page_desk (self));
  for (guint i = 0; i < past->len; i++)
    add_row (self, g_ptr_array_index (past, i));
  gtk_widget_set_visible (GTK_WIDGET (self->none), past->len == 0);
  gtk_widget_set_visible (GTK_WIDGET (self->list), past->len > 0);
}

/* On a row, which opens its page, not on a button that would write. */
static gboolean
focus (AppDeskPage *page)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (APP_PAST_PAGE (page)->list, 0);

  return row != NULL && gtk_widget_grab_focus (GTK_WIDGET (row));
}

static void
desk_set (AppDeskPage *page)
{
  refresh (APP_PAST_PAGE (page));
}

static void
changed (AppDeskPage *page, DeskSubject *subject)
{
  if (gtk_widget_get_mapped (GTK_WIDGET (page)))
    refresh (APP_PAST_PAGE (page));
}

static void
activated_cb (GtkListBox *list, GtkListBoxRow *row, AppPastPage *self)
{
  AppWindow *window = app_window_of (self);
  const CoreId *id = g_object_get_data (G_OBJECT (row), "animal");

  if (window != NULL && id != NULL)
    app_window_show_animal (window, *id);
}

static void
dispose (GObject *object)
{
  app_template_dispose (GTK_WIDGET (object), APP_TYPE_PAST_PAGE);
  G_OBJECT_CLASS (app_past_page_parent_class)->dispose (object);
}

static void
app_past_page_class_init (AppPastPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  APP_DESK_PAGE_CLASS (klass)->focus = focus;
  APP_DESK_PAGE_CLASS (klass)->desk_set = desk_set;
  APP_DESK_PAGE_CLASS (klass)->changed = changed;
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/past-page.ui");
  gtk_widget_class_bind_template_child (widget_class, AppPastPage, list);
  gtk_widget_class_bind_template_child (widget_class, AppPastPage, none);
}

static void
app_past_page_init (AppPastPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect_object (self->list, "row-activated", G_CALLBACK (activated_cb), self, 0);
  g_signal_connect (self, "map", G_CALLBACK (refresh), NULL);
}

GtkWidget *
app_past_page_new (void)
{
  return g_object_new (APP_TYPE_PAST_PAGE, NULL);
}
