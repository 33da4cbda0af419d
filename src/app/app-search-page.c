/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-search-page.c — a field and what it finds; see app-search-page.h.
 *
 * Each keystroke asks anew and lets go of the question before. Down goes from the field into the
 * list, Return in the field opens the first. */
#include "app/app-search-page.h"

#include <glib/gi18n.h>

#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-window.h"
#include "desk/desk-search.h"
#include "words/words-search.h"

#define MOST 60 /* rows: more is a reason to type on */

struct _AppSearchPage
{
  AppDeskPage parent_instance;

  /* Template children, borrowed */
  GtkSearchEntry *entry;
  GtkLabel *hint;
  GtkListBox *list;

  GCancellable *asking; /* owned */
};

G_DEFINE_FINAL_TYPE (AppSearchPage, app_search_page, APP_TYPE_DESK_PAGE)

/* ---- rows ---- */

/* An egg case or a culture has no stage: what it is, and how it stands. */
static char *
other_words (Desk *desk, DeskSubject *subject)
{
  const char *kind = words_subject_kind (WORDS_LOCAL, desk_subject_kind (subject));
  g_autofree char *sentence = app_other_sentence (desk, subject);

  return sentence[0] != '\0' ? g_strdup_printf ("%s · %s", kind, sentence) : g_strdup (kind);
}

/* Why it is among the hits, where its name alone does not say so. */
static char *
why_words (AppSearchPage *self, const DeskHit *hit)
{
  Desk *desk = app_desk_page_desk (self);
  const CoreEntry *entry = core_id_is_none (hit->entry) ? NULL : desk_entry (desk, hit->entry);
  CoreSubjectKind kind = desk_subject_kind (hit->subject);
  WordsView view = app_view (desk);

  if (entry != NULL)
    return app_entry_line (desk, hit->subject, entry->day, entry);
  return kind == CORE_SUBJECT_EGGCASE || kind == CORE_SUBJECT_CULTURE
           ? other_words (desk, hit->subject)
           : words_stage (&view, desk_subject_state (hit->subject));
}

static char *
title_words (const DeskHit *hit)
{
  const CoreState *state = desk_subject_state (hit->subject);
  const char *name = state->name[0] != '\0' ? state->name : NULL;

  if (desk_subject_kind (hit->subject) == CORE_SUBJECT_PLACE)
    return g_strdup (words_subject_kind (WORDS_LOCAL, CORE_SUBJECT_PLACE));
  if (desk_subject_kind (hit->subject) != CORE_SUBJECT_ANIMAL)
    {
      g_autofree char *other = app_other_kind (hit->subject);

      return app_capitalised (other);
    }
  return g_strdup_printf ("%s %s%s%s", words_sex_sign (desk_subject_verdict (hit->subject)->verdict),
                          app_species_name (hit->subject), name != NULL ? " · " : "", name != NULL ? name : "");
}

static GtkWidget *
text_new (const char *text, const char *css, int chars)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_yalign (GTK_LABEL (label), 0);
  if (css != NULL)
    gtk_widget_add_css_class (label, css);
  if (chars > 0)
    gtk_label_set_width_chars (GTK_LABEL (label), chars);
  return label;
}

static void
add_row (AppSearchPage *self, const DeskHit *hit)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 18);
  g_autofree char *title = title_words (hit);
  g_autofree char *why = why_words (self, hit);
  const char *past = desk_subject_living (hit->subject) ? "" : C_ ("search", "past");
  g_autofree char *label = g_strdup_printf ("%s, %s, %s%s%s", desk_subject_label (hit->subject), title, why,
                                            past[0] != '\0' ? ", " : "", past);
  GtkWidget *number = text_new (desk_subject_label (hit->subject), "strong", 8);
  GtkWidget *words = text_new (why, "dim", 0);
  GtkWidget *kind = text_new (title, NULL, 26);
  CoreId id = desk_subject_id (hit->subject);

  gtk_widget_add_css_class (number, "numbers");
  gtk_label_set_ellipsize (GTK_LABEL (kind), PANGO_ELLIPSIZE_END);
  gtk_label_set_wrap (GTK_LABEL (words), TRUE);
  gtk_label_set_lines (GTK_LABEL (words), 3);
  gtk_label_set_ellipsize (GTK_LABEL (words), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (box), number);
  gtk_box_append (GTK_BOX (box), kind);
  gtk_box_append (GTK_BOX (box), words);
  gtk_box_append (GTK_BOX (box), text_new (past, "dim", 0));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_object_set_data_full (G_OBJECT (row), "subject", g_memdup2 (&id, sizeof id), g_free);
  gtk_list_box_append (self->list, row);
}

static void
clear (AppSearchPage *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->list))) != NULL)
    gtk_list_box_remove (self->list, child);
  gtk_widget_hide (GTK_WIDGET (self->list));
}

static void
show_hits (AppSearchPage *self, GPtrArray *hits)
{
  clear (self);
  for (guint i = 0; i < hits->len && i < MOST; i++)
    add_row (self, g_ptr_array_index (hits, i));
  gtk_widget_set_visible (GTK_WIDGET (self->list), hits->len > 0);
  if (hits->len > MOST)
    {
      g_autofree char *text
        = g_strdup_printf (C_ ("search", "The first %d are shown; type on to find fewer."), MOST);

      gtk_label_set_label (self->hint, text);
    }
  else
    gtk_label_set_label (self->hint, hits->len == 0 ? words_search_nothing (WORDS_LOCAL) : "");
  gtk_widget_set_visible (GTK_WIDGET (self->hint), hits->len == 0 || hits->len > MOST);
}

/* ---- asking ---- */

static void
found_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppSearchPage) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) hits = desk_search_finish (DESK_DESK (source), result, &error);
  AppWindow *window;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) || app_desk_page_desk (self) != DESK_DESK (source))
    return;
  if (hits != NULL)
    show_hits (self, hits);
  else if ((window = app_window_of (self)) != NULL)
    app_window_say_error (window, error);
}

static void
ask (AppSearchPage *self)
{
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->entry))));
  Desk *desk = app_desk_page_desk (self);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (desk == NULL || text[0] == '\0')
    {
      clear (self);
      gtk_label_set_label (self->hint, C_ ("search", "A number, a name, a kind, a shelf, a stage, a prey, words from a note, or what was entered: "
                               "refused, sold, a buyer, a cause, an origin."));
      gtk_widget_show (GTK_WIDGET (self->hint));
      return;
    }
  self->asking = g_cancellable_new ();
  desk_search_async (desk, text, MOST + 1, self->asking, found_cb, g_object_ref (self));
}

static void
desk_set (AppDeskPage *page)
{
  AppSearchPage *self = APP_SEARCH_PAGE (page);

  gtk_editable_set_text (GTK_EDITABLE (self->entry), "");
  ask (self);
}

static void
changed (AppDeskPage *page, DeskSubject *subject)
{
  if (gtk_widget_get_mapped (GTK_WIDGET (page)))
    ask (APP_SEARCH_PAGE (page));
}

static void
open_row (AppSearchPage *self, GtkListBoxRow *row)
{
  AppWindow *window = app_window_of (self);
  const CoreId *id = g_object_get_data (G_OBJECT (row), "subject");
  g_autoptr (DeskSubject) subject = id != NULL ? desk_get (app_desk_page_desk (self), *id) : NULL;

  if (window == NULL || subject == NULL)
    return;
  if (desk_subject_kind (subject) == CORE_SUBJECT_PLACE)
    app_window_show_shelf (window, *id);
  else
    app_window_show_animal (window, *id);
}

static void
activated_cb (GtkListBox *list, GtkListBoxRow *row, AppSearchPage *self)
{
  open_row (self, row);
}

static void
first_cb (GtkSearchEntry *entry, AppSearchPage *self)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (self->list, 0);

  if (row != NULL)
    open_row (self, row);
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppSearchPage *self)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (self->list, 0);

  if (keyval != GDK_KEY_Down || row == NULL)
    return GDK_EVENT_PROPAGATE;
  return gtk_widget_grab_focus (GTK_WIDGET (row));
}

static void
leave_cb (GtkSearchEntry *entry, AppSearchPage *self)
{
  AppWindow *window = app_window_of (self);

  if (gtk_editable_get_text (GTK_EDITABLE (entry))[0] != '\0')
    gtk_editable_set_text (GTK_EDITABLE (entry), "");
  else if (window != NULL)
    app_window_go_back (window);
}

/* ---- object ---- */

/* Into the field, what stands there selected. */
static gboolean
focus (AppDeskPage *page)
{
  return gtk_widget_grab_focus (GTK_WIDGET (APP_SEARCH_PAGE (page)->entry));
}

static void
dispose (GObject *object)
{
  AppSearchPage *self = APP_SEARCH_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  app_template_dispose (GTK_WIDGET (object), APP_TYPE_SEARCH_PAGE);
  G_OBJECT_CLASS (app_search_page_parent_class)->dispose (object);
}

static void
app_search_page_class_init (AppSearchPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  APP_DESK_PAGE_CLASS (klass)->focus = focus;
  APP_DESK_PAGE_CLASS (klass)->desk_set = desk_set;
  APP_DESK_PAGE_CLASS (klass)->changed = changed;
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/search-page.ui");
  gtk_widget_class_bind_template_child (widget_class, AppSearchPage, entry);
  gtk_widget_class_bind_template_child (widget_class, AppSearchPage, hint);
  gtk_widget_class_bind_template_child (widget_class, AppSearchPage, list);
}

static void
app_search_page_init (AppSearchPage *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect_object (self->entry, "changed", G_CALLBACK (ask), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->entry, "activate", G_CALLBACK (first_cb), self, 0);
  g_signal_connect_object (self->entry, "stop-search", G_CALLBACK (leave_cb), self, 0);
  g_signal_connect_object (self->list, "row-activated", G_CALLBACK (activated_cb), self, 0);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  gtk_widget_add_controller (GTK_WIDGET (self->entry), keys);
}

GtkWidget *
app_search_page_new (void)
{
  return g_object_new (APP_TYPE_SEARCH_PAGE, NULL);
}
