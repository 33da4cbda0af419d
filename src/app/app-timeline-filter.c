/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-timeline-filter.c — one button a group, with how many entries it has. */
#include "app/app-timeline-filter.h"

#include <glib/gi18n.h>

#include "app/app-widgets.h"
#include "app/app-wrap.h"

struct _AppTimelineFilter
{
  GtkWidget parent_instance;

  /* Children, borrowed */
  GtkToggleButton *buttons[WORDS_N_GROUPS];

  gboolean quiet; /* several are set at once: said once */
};

G_DEFINE_FINAL_TYPE (AppTimelineFilter, app_timeline_filter, GTK_TYPE_WIDGET)

enum
{
  CHANGED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static void
toggled_cb (GtkToggleButton *button, AppTimelineFilter *self)
{
  if (!self->quiet)
    g_signal_emit (self, signals[CHANGED], 0);
}

static void
dispose (GObject *object)
{
  app_unparent_all (object);
  G_OBJECT_CLASS (app_timeline_filter_parent_class)->dispose (object);
}

static void
app_timeline_filter_class_init (AppTimelineFilterClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_GROUP);
  signals[CHANGED] =
    g_signal_new ("changed", APP_TYPE_TIMELINE_FILTER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
app_timeline_filter_init (AppTimelineFilter *self)
{
  GtkWidget *wrap = g_object_new (APP_TYPE_WRAP, NULL);

  gtk_widget_add_css_class (GTK_WIDGET (self), "filters");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  C_ ("timeline", "Show only"), -1);
  gtk_widget_set_parent (wrap, GTK_WIDGET (self));
  for (int group = 0; group < WORDS_N_GROUPS; group++)
    {
      GtkWidget *button = gtk_toggle_button_new ();
      /* Translators: a key, such as Alt+1 */
      g_autofree char *key = g_strdup_printf (C_ ("timeline", "Show only these: Alt+%d"), group + 1);

      gtk_widget_set_tooltip_text (button, key);
      g_signal_connect_object (button, "toggled", G_CALLBACK (toggled_cb), self, 0);
      app_wrap_append (APP_WRAP (wrap), button);
      self->buttons[group] = GTK_TOGGLE_BUTTON (button);
    }
}

GtkWidget *
app_timeline_filter_new (void)
{
  return g_object_new (APP_TYPE_TIMELINE_FILTER, NULL);
}

void
app_timeline_filter_set_counts (AppTimelineFilter *self, const guint counts[WORDS_N_GROUPS])
{
  guint used = 0;

  g_return_if_fail (APP_IS_TIMELINE_FILTER (self));
  for (int group = 0; group < WORDS_N_GROUPS; group++)
    {
      GtkWidget *button = GTK_WIDGET (self->buttons[group]);
      const char *name = words_entry_group (WORDS_LOCAL, (WordsGroup) group);
      g_autofree char *entries = words_entries_shown (WORDS_LOCAL, counts[group], counts[group]);
      /* Translators: a group of entries and how many it has: "Meals · 34", "Meals: 34 entries" */
      g_autofree char *label = g_strdup_printf (C_ ("timeline", "%s · %u"), name, counts[group]);
      g_autofree char *said = g_strdup_printf (C_ ("timeline", "%s: %s"), name, entries);
      gboolean shown = counts[group] > 0 || gtk_toggle_button_get_active (self->buttons[group]);

      gtk_button_set_label (GTK_BUTTON (button), label);
      gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, said, -1);
      gtk_widget_set_visible (button, shown);
      used += shown ? 1 : 0;
    }
  gtk_widget_set_visible (GTK_WIDGET (self), used > 1 || !app_timeline_filter_all (self));
}

gboolean
app_timeline_filter_chosen (AppTimelineFilter *self, WordsGroup group)
{
  g_return_val_if_fail (APP_IS_TIMELINE_FILTER (self) && group < WORDS_N_GROUPS, FALSE);
  return gtk_toggle_button_get_active (self->buttons[group]);
}

gboolean
app_timeline_filter_all (AppTimelineFilter *self)
{
  g_return_val_if_fail (APP_IS_TIMELINE_FILTER (self), TRUE);
  for (int group = 0; group < WORDS_N_GROUPS; group++)
    if (gtk_toggle_button_get_active (self->buttons[group]))
      return FALSE;
  return TRUE;
}

void
app_timeline_filter_choose (AppTimelineFilter *self, WordsGroup group, gboolean chosen)
{
  g_return_if_fail (APP_IS_TIMELINE_FILTER (self) && group < WORDS_N_GROUPS);
  gtk_toggle_button_set_active (self->buttons[group], chosen);
}

void
app_timeline_filter_clear (AppTimelineFilter *self)
{
  g_return_if_fail (APP_IS_TIMELINE_FILTER (self));
  if (app_timeline_filter_all (self))
    return;
  self->quiet = TRUE;
  for (int group = 0; group < WORDS_N_GROUPS; group++)
    gtk_toggle_button_set_active (self->buttons[group], FALSE);
  self->quiet = FALSE;
  g_signal_emit (self, signals[CHANGED], 0);
}

gboolean
app_timeline_filter_key (AppTimelineFilter *self, guint keyval)
{
  guint group = keyval - GDK_KEY_1;

  g_return_val_if_fail (APP_IS_TIMELINE_FILTER (self), FALSE);
  if (!gtk_widget_get_visible (GTK_WIDGET (self)))
    return FALSE;
  if (keyval == GDK_KEY_0)
    {
      app_timeline_filter_clear (self);
      return TRUE;
    }
  if (keyval < GDK_KEY_1 || group >= WORDS_N_GROUPS || !gtk_widget_get_visible (GTK_WIDGET (self->buttons[group])))
    return FALSE;
  app_timeline_filter_choose (self, (WordsGroup) group, !app_timeline_filter_chosen (self, (WordsGroup) group));
  return TRUE;
}
