/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-past-page.c — a plain list, latest first; see app-past-page.h. */
#include "app/app-past-page.h"

#include <glib/gi18n.h>

#include "app/app-ended.h"
#include "app/app-view.h"
#include "app/app-window.h"

struct _AppPastPage
{
  GtkWidget parent_instance;

  /* Children, borrowed */
  GtkWidget *scroller;
  GtkListBox *list;
  GtkLabel *none;

  /* Owned */
  Desk *desk;
  GSignalGroup *desk_signals;
};

G_DEFINE_FINAL_TYPE (AppPastPage, app_past_page, GTK_TYPE_WIDGET)

enum
{
  PROP_0,
  PROP_DESK,
  N_PROPS
};
static GParamSpec *props[N_PROPS];

static char *
ended_words (Desk *desk, DeskSubject *subject)
{
  const CoreState *state = desk_subject_state (subject);
  WordsView view = app_view (desk);
  WordsEntry row = { .entry = desk_entry (desk, state->end_entry), .state = state };
  g_autofree char *day = words_day (&view, state->end_day, WORDS_DAY_SHORT);
  g_autofree char *what = row.entry != NULL ? words_entry (&view, &row) : g_strdup ("");

  return g_strdup_printf ("%s: %s", day, what);
}

static void
add_row (AppPastPage *self, DeskSubject *subject)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 18);
  GtkWidget *number = gtk_label_new (desk_subject_label (subject));
  GtkWidget *species = gtk_label_new (app_species_name (subject));
  g_autofree char *ended = ended_words (self->desk, subject);
  GtkWidget *words = gtk_label_new (ended);
  GtkWidget *ended_row = app_ended_new ();
  g_autofree char *label = g_strdup_printf ("%s, %s, %s", desk_subject_label (subject), app_species_name (subject), ended);
  CoreId id = desk_subject_id (subject);

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
  app_ended_set_subject (APP_ENDED (ended_row), self->desk, subject);
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
  if (self->desk == NULL)
    return;
  past = desk_past_animals (self->desk);
  for (guint i = 0; i < past->len; i++)
    add_row (self, g_ptr_array_index (past, i));
  gtk_widget_set_visible (GTK_WIDGET (self->none), past->len == 0);
  gtk_widget_set_visible (GTK_WIDGET (self->list), past->len > 0);
}

static void
changed_cb (Desk *desk, DeskSubject *subject, AppPastPage *self)
{
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    refresh (self);
}

static void
map_cb (AppPastPage *self)
{
  refresh (self);
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
set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  AppPastPage *self = APP_PAST_PAGE (object);

  if (id != PROP_DESK)
    {
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
      return;
    }
  g_set_object (&self->desk, g_value_get_object (value));
  g_signal_group_set_target (self->desk_signals, self->desk);
  refresh (self);
}

static void
dispose (GObject *object)
{
  AppPastPage *self = APP_PAST_PAGE (object);

  if (self->desk_signals != NULL)
    g_signal_group_set_target (self->desk_signals, NULL);
  g_clear_object (&self->desk_signals);
  g_clear_object (&self->desk);
  g_clear_pointer (&self->scroller, gtk_widget_unparent);
  G_OBJECT_CLASS (app_past_page_parent_class)->dispose (object);
}

static void
app_past_page_class_init (AppPastPageClass *klass)
{
  G_OBJECT_CLASS (klass)->set_property = set_property;
  G_OBJECT_CLASS (klass)->dispose = dispose;
  props[PROP_DESK] = g_param_spec_object ("desk", NULL, NULL, DESK_TYPE_DESK, G_PARAM_WRITABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (G_OBJECT_CLASS (klass), N_PROPS, props);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
app_past_page_init (AppPastPage *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  GtkWidget *title = gtk_label_new (C_ ("past", "Past animals"));

  self->scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_parent (self->scroller, GTK_WIDGET (self));
  gtk_widget_add_css_class (box, "page");
  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_widget_add_css_class (title, "title");
  self->none = GTK_LABEL (gtk_label_new (C_ ("past", "Animals that died, left or escaped are listed here, with all that was written about them. There are none yet.")));
  gtk_label_set_wrap (self->none, TRUE);
  gtk_label_set_xalign (self->none, 0);
  gtk_widget_add_css_class (GTK_WIDGET (self->none), "dim");
  self->list = GTK_LIST_BOX (gtk_list_box_new ());
  gtk_list_box_set_selection_mode (self->list, GTK_SELECTION_NONE);
  gtk_widget_add_css_class (GTK_WIDGET (self->list), "plain");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, C_ ("past", "Past animals"), -1);
  g_signal_connect_object (self->list, "row-activated", G_CALLBACK (activated_cb), self, 0);
  g_signal_connect (self, "map", G_CALLBACK (map_cb), NULL);
  gtk_box_append (GTK_BOX (box), title);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->none));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->list));
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroller), box);
  self->desk_signals = g_signal_group_new (DESK_TYPE_DESK);
  g_signal_group_connect_object (self->desk_signals, "changed", G_CALLBACK (changed_cb), self, 0);
}

GtkWidget *
app_past_page_new (void)
{
  return g_object_new (APP_TYPE_PAST_PAGE, NULL);
}
