/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-timeline.c — one row an entry: day, knot, words, and for photos the picture.
 *
 * An entry is never edited in place: "take back" voids it, "correct" replaces it.
 * What it was before stands under a correction, what belongs to another animal now
 * stays where it was written, and what was taken back can be shown. Groups of kinds
 * can be picked out. Long lives show their last hundred rows until more are asked for. */
#include "app/app-timeline.h"

#include <glib/gi18n.h>

#include "app/app-dialogs.h"
#include "app/app-photo-row.h"
#include "app/app-timeline-filter.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-window.h"
#include "desk/desk-identity.h"

#define FIRST_ROWS 100
#define THUMB_SIDE 132

struct _AppTimeline
{
  GtkWidget parent_instance;

  /* Children, borrowed */
  GtkWidget *outer;
  AppTimelineFilter *filter;
  GtkBox *shown; /* how many of how many, while some are left out */
  GtkLabel *how_many;
  GtkBox *rows;
  GtkWidget *more;
  GtkWidget *taken_back;

  /* Owned */
  Desk *desk;
  DeskSubject *subject;
  guint limit;
};

G_DEFINE_FINAL_TYPE (AppTimeline, app_timeline, GTK_TYPE_WIDGET)

static void refresh (AppTimeline *self);

/* ---- what can be done with an entry ---- */

static void
voided_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppTimeline) self = data;
  g_autoptr (GError) error = NULL;
  AppWindow *window = app_window_of (self);
  gboolean ok = desk_void_finish (DESK_DESK (source), result, &error);

  if (window == NULL)
    return;
  if (ok)
    app_window_say (window, C_ ("timeline", "Taken back. Ctrl+Z brings it back."));
  else
    app_window_say_error (window, error);
}

static CoreId
entry_of (GtkWidget *button)
{
  const CoreId *id = g_object_get_data (G_OBJECT (button), "entry");

  return *id;
}

static void
close_menu (GtkWidget *button)
{
  GtkWidget *popover = gtk_widget_get_ancestor (button, GTK_TYPE_POPOVER);

  if (popover != NULL)
    gtk_popover_popdown (GTK_POPOVER (popover));
}

static void
void_cb (GtkButton *button, AppTimeline *self)
{
  close_menu (GTK_WIDGET (button));
  desk_void_async (self->desk, entry_of (GTK_WIDGET (button)), voided_cb, g_object_ref (self));
}

static void
correct_cb (GtkButton *button, AppTimeline *self)
{
  AppWindow *window = app_window_of (self);

  close_menu (GTK_WIDGET (button));
  if (window != NULL)
    app_dialog_correct (window, entry_of (GTK_WIDGET (button)));
}

static GtkWidget *
action_button (AppTimeline *self, const CoreEntry *entry, const char *label, GCallback callback)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (label);

  g_object_set_data_full (G_OBJECT (button), "entry", g_memdup2 (&entry->id, sizeof entry->id), g_free);
  gtk_widget_add_css_class (button, "quiet");
  g_signal_connect_object (button, "clicked", callback, self, 0);
  return button;
}

static GtkWidget *
menu_new (AppTimeline *self, const CoreEntry *entry, const char *words)
{
  GtkWidget *menu = gtk_menu_button_new ();
  GtkWidget *popover = gtk_popover_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  g_autofree char *label = g_strdup_printf (C_ ("timeline", "Correct or take back: %s"), words);

  if (entry->kind != CORE_KIND_EXCHANGED)
    gtk_box_append (GTK_BOX (box), action_button (self, entry, C_ ("timeline", "_Correct…"), G_CALLBACK (correct_cb)));
  gtk_box_append (GTK_BOX (box),
                  action_button (self, entry,
                                 entry->kind == CORE_KIND_PHOTO ? C_ ("timeline", "_Detach the picture")
                                                                : C_ ("timeline", "_Take back"),
                                 G_CALLBACK (void_cb)));
  gtk_popover_set_child (GTK_POPOVER (popover), box);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (menu), popover);
  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (menu), "view-more-symbolic");
  gtk_widget_add_css_class (menu, "row-menu");
  gtk_widget_set_valign (menu, GTK_ALIGN_START);
  gtk_accessible_update_property (GTK_ACCESSIBLE (menu), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  return menu;
}

/* ---- rows ---- */

static gboolean
is_turning_point (CoreKind kind)
{
  return kind == CORE_KIND_MOULTED || kind == CORE_KIND_HATCHED || kind == CORE_KIND_MARKED
         || kind == CORE_KIND_SEXED || kind == CORE_KIND_DIED || kind == CORE_KIND_ACQUIRED || kind == CORE_KIND_LAID
         || kind == CORE_KIND_HATCHING || kind == CORE_KIND_SPLIT || kind == CORE_KIND_JOINED
         || kind == CORE_KIND_RECOUNTED || kind == CORE_KIND_DUD || kind == CORE_KIND_EXCHANGED
         || kind == CORE_KIND_DOUBTFUL;
}

static char *
place_name (AppTimeline *self, const CoreEntry *entry)
{
  CoreId place = core_entry_ref (entry, CORE_KEY_PLACE);
  g_autoptr (DeskSubject) subject = core_id_is_none (place) ? NULL : desk_get (self->desk, place);

  if (subject == NULL)
    return desk_entry_names_subject (self->desk, entry);
  return g_strdup (desk_place_name (subject));
}

/* What has become of an entry. */
typedef enum
{
  LIVE,
  OF_OTHER,  /* it belongs to another animal now */
  CORRECTED, /* it stands under what took its place */
  TAKEN_BACK
} Fate;

static Fate
fate_of (AppTimeline *self, const CoreEntry *entry)
{
  const CoreEntry *heir = desk_entry_heir (self->desk, entry->id);

  if (heir == entry)
    return LIVE;
  if (heir == NULL)
    return TAKEN_BACK;
  return core_id_equal (heir->subject, entry->subject) ? CORRECTED : OF_OTHER;
}

/* What it replaced, where that was written for this one too; NULL = nothing. */
static const CoreEntry *
before_of (AppTimeline *self, const CoreEntry *entry)
{
  const CoreEntry *before
    = core_id_compare (entry->names, entry->id) < 0 ? desk_entry (self->desk, entry->names) : NULL;

  return before != NULL && core_id_equal (before->subject, entry->subject) ? before : NULL;
}

static gboolean
is_correction (AppTimeline *self, const CoreEntry *entry, Fate fate)
{
  return fate != LIVE || !core_id_is_none (entry->names);
}

static char *
entry_words (AppTimeline *self, const WordsView *view, const CoreEntry *entry, Fate fate)
{
  g_autofree char *place = place_name (self, entry);
  g_autofree char *was = desk_entry_was_of (self->desk, entry);
  g_autofree char *now = fate == OF_OTHER ? desk_entry_now_of (self->desk, entry) : NULL;
  WordsEntry what = { .entry = entry,
                      .state = desk_subject_state (self->subject),
                      .taken_back = fate == TAKEN_BACK,
                      .corrected = fate != CORRECTED && !core_id_is_none (entry->names),
                      .place = place,
                      .was_of = was,
                      .now_of = now };

  return words_entry (view, &what);
}

/* Under a correction, what stood there before; the latest first. */
static void
add_before (AppTimeline *self, const WordsView *view, const CoreEntry *entry, GtkWidget *box)
{
  for (const CoreEntry *old = before_of (self, entry); old != NULL; old = before_of (self, old))
    {
      g_autofree char *words = entry_words (self, view, old, CORRECTED);
      g_autofree char *day = words_day (view, old->day, WORDS_DAY_SHORT);
      /* Translators: what an entry said before it was corrected, and its day where that was another */
      g_autofree char *text = old->day == entry->day
                                ? g_strdup_printf (C_ ("timeline", "before: %s"), words)
                                : g_strdup_printf (C_ ("timeline", "before: %s (%s)"), words, day);
      GtkLabel *label = app_text (box, text, "dim");

      gtk_widget_add_css_class (GTK_WIDGET (label), "before");
    }
}

static GtkWidget *
knot_new (const CoreEntry *entry)
{
  GtkWidget *knot = gtk_label_new (is_turning_point (entry->kind) ? "●" : "○");

  gtk_widget_add_css_class (knot, is_turning_point (entry->kind) ? "leaf" : "dim");
  gtk_widget_add_css_class (knot, "caption");
  gtk_widget_set_valign (knot, GTK_ALIGN_START);
  return knot;
}

static void
add_row (AppTimeline *self, const WordsView *view, const CoreEntry *entry, Fate fate, gboolean new_day)
{
  g_autofree char *words = entry_words (self, view, entry, fate);
  g_autofree char *day = new_day ? words_day (view, entry->day, WORDS_DAY_SHORT) : g_strdup ("");
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *right = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkLabel *left = app_text (row, day, "dim");

  gtk_label_set_width_chars (left, 9);
  gtk_label_set_wrap (left, FALSE);
  gtk_label_set_xalign (left, 1);
  gtk_widget_set_valign (GTK_WIDGET (left), GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (row), knot_new (entry));
  gtk_widget_set_hexpand (right, TRUE);
  app_text (right, words, fate != LIVE ? "dim" : entry->kind == CORE_KIND_MOULTED ? "strong" : NULL);
  if (fate == LIVE)
    add_before (self, view, entry, right);
  if (fate == LIVE && entry->kind == CORE_KIND_PHOTO)
    gtk_box_append (GTK_BOX (right), app_photo_row_new (self->desk, desk_subject_id (self->subject), entry->id,
                                                        THUMB_SIDE, words));
  gtk_box_append (GTK_BOX (row), right);
  /* What it has from its lot is corrected there, for all that came out of it. */
  if (fate == LIVE && core_id_equal (entry->subject, desk_subject_id (self->subject)))
    {
      GtkWidget *menu = menu_new (self, entry, words);

      gtk_box_append (GTK_BOX (row), menu);
      g_object_set_data (G_OBJECT (row), "menu", menu);
    }
  gtk_box_append (self->rows, row);
}

/* Is it among those that are picked out? */
static gboolean
is_chosen (AppTimeline *self, const CoreEntry *entry, Fate fate)
{
  if (app_timeline_filter_all (self->filter))
    return TRUE;
  if (app_timeline_filter_chosen (self->filter, words_entry_group_of (entry->kind)))
    return TRUE;
  return app_timeline_filter_chosen (self->filter, WORDS_GROUP_CORRECTIONS) && is_correction (self, entry, fate);
}

/* Has it a row of its own, as long as nothing is picked out? */
static gboolean
has_row (AppTimeline *self, const CoreEntry *entry, Fate fate)
{
  return entry->kind != CORE_KIND_VOID && fate != CORRECTED
         && (fate != TAKEN_BACK || gtk_check_button_get_active (GTK_CHECK_BUTTON (self->taken_back))
             || app_timeline_filter_chosen (self->filter, WORDS_GROUP_CORRECTIONS));
}

/* How many there are; those that were taken back count as corrections alone while they are hidden. */
typedef struct
{
  guint groups[WORDS_N_GROUPS];
  guint rows, shown, taken_back;
} Counts;

static void
count_one (AppTimeline *self, const CoreEntry *entry, Fate fate, Counts *counts)
{
  if (entry->kind == CORE_KIND_VOID || fate == CORRECTED)
    return;
  counts->taken_back += fate == TAKEN_BACK ? 1 : 0;
  counts->groups[WORDS_GROUP_CORRECTIONS] += is_correction (self, entry, fate) ? 1 : 0;
  if (!has_row (self, entry, fate))
    return;
  counts->groups[words_entry_group_of (entry->kind)]++;
  counts->rows++;
  counts->shown += is_chosen (self, entry, fate) ? 1 : 0;
}

static void
show_counts (AppTimeline *self, const Counts *counts)
{
  g_autofree char *text = words_entries_shown (WORDS_LOCAL, counts->shown, counts->rows);

  app_timeline_filter_set_counts (self->filter, counts->groups);
  gtk_label_set_label (self->how_many, text);
  gtk_widget_set_visible (GTK_WIDGET (self->shown), !app_timeline_filter_all (self->filter));
  gtk_widget_set_visible (self->taken_back, counts->taken_back > 0);
}

static void
refresh (AppTimeline *self)
{
  WordsView view = app_view (self->desk);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) history =
    desk_history (self->desk, desk_subject_id (self->subject), &error);
  Counts counts = { { 0 } };
  CoreDay day = CORE_DAY_NONE;
  guint shown = 0;

  app_box_empty (self->rows);
  if (history == NULL)
    {
      AppWindow *window = app_window_of (self);

      if (window != NULL)
        app_window_say_error (window, error);
      gtk_label_set_label (self->how_many, "");
      return;
    }
  for (guint i = 0; i < history->len; i++)
    {
      const CoreEntry *entry = g_ptr_array_index (history, i);
      Fate fate = fate_of (self, entry);

      count_one (self, entry, fate, &counts);
      if (shown >= self->limit || !has_row (self, entry, fate) || !is_chosen (self, entry, fate))
        continue;
      add_row (self, &view, entry, fate, entry->day != day);
      day = entry->day;
      shown++;
    }
  show_counts (self, &counts);
  gtk_widget_set_visible (self->more, counts.shown > shown);
}

static void
more_cb (GtkButton *button, AppTimeline *self)
{
  self->limit += FIRST_ROWS;
  refresh (self);
}

static void
filter_cb (AppTimelineFilter *filter, AppTimeline *self)
{
  self->limit = FIRST_ROWS;
  if (self->subject != NULL)
    refresh (self);
}

static void
all_cb (GtkButton *button, AppTimeline *self)
{
  app_timeline_filter_clear (self->filter);
}

static void
taken_back_cb (GtkCheckButton *button, AppTimeline *self)
{
  if (self->subject != NULL)
    refresh (self);
}

/* The menu key opens the menu of the row that has the focus, on its picture too. */
static gboolean
menu_key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppTimeline *self)
{
  gboolean asks = keyval == GDK_KEY_Menu || (keyval == GDK_KEY_F10 && (state & GDK_SHIFT_MASK) != 0);
  GtkWidget *row = gtk_widget_get_focus_child (GTK_WIDGET (self->rows));
  GtkWidget *menu = row != NULL ? g_object_get_data (G_OBJECT (row), "menu") : NULL;

  if (!asks || menu == NULL)
    return GDK_EVENT_PROPAGATE;
  gtk_menu_button_popup (GTK_MENU_BUTTON (menu));
  return GDK_EVENT_STOP;
}

static void
dispose (GObject *object)
{
  AppTimeline *self = APP_TIMELINE (object);

  g_clear_object (&self->desk);
  g_clear_pointer (&self->subject, desk_subject_unref);
  g_clear_pointer (&self->outer, gtk_widget_unparent);
  G_OBJECT_CLASS (app_timeline_parent_class)->dispose (object);
}

static void
app_timeline_class_init (AppTimelineClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
add_filter (AppTimeline *self)
{
  GtkWidget *all = gtk_button_new_with_label (C_ ("timeline", "Show all"));

  self->filter = APP_TIMELINE_FILTER (app_timeline_filter_new ());
  gtk_widget_set_visible (GTK_WIDGET (self->filter), FALSE);
  g_signal_connect_object (self->filter, "changed", G_CALLBACK (filter_cb), self, 0);
  gtk_box_append (GTK_BOX (self->outer), GTK_WIDGET (self->filter));
  self->shown = GTK_BOX (gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6));
  gtk_widget_set_visible (GTK_WIDGET (self->shown), FALSE);
  self->how_many = app_text (GTK_WIDGET (self->shown), "", "dim");
  gtk_widget_add_css_class (all, "quiet");
  gtk_widget_set_tooltip_text (all, C_ ("timeline", "Show all: Alt+0"));
  g_signal_connect_object (all, "clicked", G_CALLBACK (all_cb), self, 0);
  gtk_box_append (self->shown, all);
  gtk_box_append (GTK_BOX (self->outer), GTK_WIDGET (self->shown));
}

static void
app_timeline_init (AppTimeline *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->limit = FIRST_ROWS;
  self->outer = gtk_box_new (GTK_ORIENTATION_VERTICAL, 9);
  gtk_widget_set_parent (self->outer, GTK_WIDGET (self));
  add_filter (self);
  self->rows = GTK_BOX (gtk_box_new (GTK_ORIENTATION_VERTICAL, 6));
  gtk_box_append (GTK_BOX (self->outer), GTK_WIDGET (self->rows));
  self->more = gtk_button_new_with_label (C_ ("timeline", "Show earlier entries"));
  gtk_widget_add_css_class (self->more, "quiet");
  gtk_widget_set_halign (self->more, GTK_ALIGN_START);
  g_signal_connect_object (self->more, "clicked", G_CALLBACK (more_cb), self, 0);
  gtk_box_append (GTK_BOX (self->outer), self->more);
  self->taken_back = gtk_check_button_new_with_label (C_ ("timeline", "Show what was taken back"));
  g_signal_connect_object (self->taken_back, "toggled", G_CALLBACK (taken_back_cb), self, 0);
  gtk_box_append (GTK_BOX (self->outer), self->taken_back);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (menu_key_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

GtkWidget *
app_timeline_new (void)
{
  return g_object_new (APP_TYPE_TIMELINE, NULL);
}

void
app_timeline_set (AppTimeline *self, Desk *desk, DeskSubject *subject)
{
  g_return_if_fail (APP_IS_TIMELINE (self));

  if (subject == NULL || self->subject == NULL
      || !core_id_equal (desk_subject_id (subject), desk_subject_id (self->subject)))
    self->limit = FIRST_ROWS;
  g_set_object (&self->desk, desk);
  g_clear_pointer (&self->subject, desk_subject_unref);
  if (subject == NULL || desk == NULL)
    {
      app_box_empty (self->rows);
      gtk_widget_set_visible (GTK_WIDGET (self->filter), FALSE);
      return;
    }
  self->subject = desk_subject_ref (subject);
  refresh (self);
}

gboolean
app_timeline_key (AppTimeline *self, guint keyval)
{
  g_return_val_if_fail (APP_IS_TIMELINE (self), FALSE);
  return self->subject != NULL && app_timeline_filter_key (self->filter, keyval);
}
