/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-calendar-filter.c — see app-calendar-filter.h. The first row of each choice is all. */
#include "app/app-calendar-filter.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/app-calendar-later.h"
#include "app/app-drop-down.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-wrap.h"

typedef enum
{
  PLACE,
  KIND,
  HAND,
  N_CHOICES
} Choice;

struct _AppCalendarFilter
{
  GtkWidget parent_instance;

  /* Children, borrowed */
  GtkDropDown *choices[N_CHOICES];
  GtkToggleButton *near_moult;

  GPtrArray *keys[N_CHOICES]; /* char *, one a row; "" = all */
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (AppCalendarFilter, app_calendar_filter, GTK_TYPE_WIDGET)

enum
{
  CHANGED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static const char *
chosen (AppCalendarFilter *self, Choice choice)
{
  guint row = gtk_drop_down_get_selected (self->choices[choice]);

  return row < self->keys[choice]->len ? self->keys[choice]->pdata[row] : "";
}

/* What is chosen stays to be chosen, also where just now nothing of it is planned. */
static guint
keep_chosen (AppCalendarFilter *self, Choice choice, GPtrArray *keys, GtkStringList *names)
{
  const char *now = chosen (self, choice);
  gpointer item = gtk_drop_down_get_selected_item (self->choices[choice]);

  for (guint i = 0; i < keys->len; i++)
    if (g_str_equal (keys->pdata[i], now))
      return i;
  if (choice == PLACE || !GTK_IS_STRING_OBJECT (item))
    return 0;
  g_ptr_array_add (keys, g_strdup (now));
  gtk_string_list_append (names, gtk_string_object_get_string (item));
  return keys->len - 1;
}

static gboolean
same_keys (const GPtrArray *a, const GPtrArray *b)
{
  gboolean same = a->len == b->len;

  for (guint i = 0; same && i < a->len; i++)
    same = g_str_equal (a->pdata[i], b->pdata[i]);
  return same;
}

/* Takes both. */
static void
offer (AppCalendarFilter *self, Choice choice, GPtrArray *keys, GtkStringList *names)
{
  guint selected = keep_chosen (self, choice, keys, names);
  gboolean same = choice != PLACE && same_keys (keys, self->keys[choice]); /* a place may have another name */

  g_ptr_array_unref (self->keys[choice]);
  self->keys[choice] = keys;
  if (!same)
    {
      self->filling = TRUE;
      gtk_drop_down_set_model (self->choices[choice], G_LIST_MODEL (names));
      gtk_drop_down_set_selected (self->choices[choice], selected);
      self->filling = FALSE;
    }
  g_object_unref (names);
}

static void
begin (const char *all, GPtrArray **keys, GtkStringList **names)
{
  *keys = g_ptr_array_new_with_free_func (g_free);
  *names = gtk_string_list_new (NULL);
  g_ptr_array_add (*keys, g_strdup (""));
  gtk_string_list_append (*names, all);
}

void
app_calendar_filter_refresh (AppCalendarFilter *self, Desk *desk)
{
  g_autoptr (GPtrArray) places = desk_places (desk);
  GPtrArray *keys;
  GtkStringList *names;

  g_return_if_fail (APP_IS_CALENDAR_FILTER (self));
  begin (C_ ("calendar", "all places"), &keys, &names);
  for (guint i = 0; i < places->len; i++)
    {
      char text[37];

      core_id_to_text (desk_subject_id (places->pdata[i]), text);
      g_ptr_array_add (keys, g_strdup (text));
      gtk_string_list_append (names, desk_place_name (places->pdata[i]));
    }
  offer (self, PLACE, keys, names);
}

/* ---- kinds, and what is to be done ---- */

typedef struct
{
  char *key;  /* owned */
  char *name; /* owned */
  int order;
} Row;

static void
clear_row (gpointer data)
{
  Row *row = data;

  g_free (row->key);
  g_free (row->name);
}

static int
compare_rows (gconstpointer a, gconstpointer b)
{
  const Row *x = a, *y = b;

  return x->order != y->order ? x->order - y->order : g_utf8_collate (x->name, y->name);
}

static void
offer_rows (AppCalendarFilter *self, Choice choice, const char *all, GArray *rows)
{
  GPtrArray *keys;
  GtkStringList *names;

  g_array_sort (rows, compare_rows);
  begin (all, &keys, &names);
  for (guint i = 0; i < rows->len; i++)
    {
      const Row *row = &g_array_index (rows, Row, i);

      g_ptr_array_add (keys, g_strdup (row->key));
      gtk_string_list_append (names, row->name);
    }
  offer (self, choice, keys, names);
  g_array_unref (rows);
}

static GArray *
rows_new (void)
{
  GArray *rows = g_array_new (FALSE, FALSE, sizeof (Row));

  g_array_set_clear_func (rows, clear_row);
  return rows;
}

static void
offer_kinds (AppCalendarFilter *self, const DeskAgenda *agenda)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  GArray *rows = rows_new ();

  for (guint i = 0; i < agenda->subjects->len; i++)
    {
      const DeskSubject *subject = agenda->subjects->pdata[i];
      CoreSubjectKind kind = desk_subject_kind (subject);
      const char *species = desk_filter_species (subject);
      Row row = { 0 };

      if (kind == CORE_SUBJECT_PLACE || kind == CORE_SUBJECT_CULTURE || species[0] == '\0'
          || !g_hash_table_add (seen, (gpointer) species))
        continue;
      row.key = g_strdup (species);
      row.name = app_capitalised (app_species_name (subject));
      g_array_append_val (rows, row);
    }
  offer_rows (self, KIND, C_ ("calendar", "all kinds"), rows);
}

static void
offer_hands (AppCalendarFilter *self, const DeskAgenda *agenda)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  GArray *rows = rows_new ();

  for (guint i = 0; i < agenda->rows->len; i++)
    {
      const DeskAgendaRow *at = &g_array_index (agenda->rows, DeskAgendaRow, i);
      CoreTask task = app_calendar_task (at);
      int hand = app_calendar_hand (&task);
      Row row = { .order = hand };

      if (!g_hash_table_add (seen, GINT_TO_POINTER (hand)))
        continue;
      row.key = g_strdup_printf ("%d", hand);
      row.name = app_calendar_group (&task);
      g_array_append_val (rows, row);
    }
  offer_rows (self, HAND, C_ ("calendar", "all tasks"), rows);
}

void
app_calendar_filter_offer (AppCalendarFilter *self, const DeskAgenda *agenda)
{
  g_return_if_fail (APP_IS_CALENDAR_FILTER (self));
  offer_kinds (self, agenda);
  offer_hands (self, agenda);
}

CoreId
app_calendar_filter_place (AppCalendarFilter *self)
{
  CoreId id = { { 0 } };

  g_return_val_if_fail (APP_IS_CALENDAR_FILTER (self), id);
  if (!core_id_from_text (chosen (self, PLACE), &id))
    id = (CoreId) { { 0 } };
  return id;
}

DeskFilter
app_calendar_filter_get (AppCalendarFilter *self)
{
  const char *species = chosen (self, KIND), *hand = chosen (self, HAND);

  return (DeskFilter) { .species = species[0] != '\0' ? species : NULL,
                        .hand = hand[0] != '\0' ? (int) g_ascii_strtoll (hand, NULL, 10) : -1,
                        .near_moult = gtk_toggle_button_get_active (self->near_moult) };
}

/* ---- the widget ---- */

static void
chosen_cb (AppCalendarFilter *self)
{
  if (!self->filling)
    g_signal_emit (self, signals[CHANGED], 0);
}

static void
dispose (GObject *object)
{
  app_unparent_all (object);
  G_OBJECT_CLASS (app_calendar_filter_parent_class)->dispose (object);
}

static void
finalize (GObject *object)
{
  for (int i = 0; i < N_CHOICES; i++)
    g_ptr_array_unref (APP_CALENDAR_FILTER (object)->keys[i]);
  G_OBJECT_CLASS (app_calendar_filter_parent_class)->finalize (object);
}

static void
app_calendar_filter_class_init (AppCalendarFilterClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = dispose;
  G_OBJECT_CLASS (klass)->finalize = finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_GROUP);
  signals[CHANGED] =
    g_signal_new ("changed", APP_TYPE_CALENDAR_FILTER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
app_calendar_filter_init (AppCalendarFilter *self)
{
  const char *const names[N_CHOICES] = { C_ ("calendar", "Place"), C_ ("calendar", "Kind"), C_ ("calendar", "What is to be done") };
  GtkWidget *wrap = g_object_new (APP_TYPE_WRAP, NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, C_ ("calendar", "Show only"), -1);
  gtk_widget_add_css_class (GTK_WIDGET (self), "choices");
  gtk_widget_set_parent (wrap, GTK_WIDGET (self));
  for (int i = 0; i < N_CHOICES; i++)
    {
      GtkWidget *drop = gtk_drop_down_new (NULL, NULL);

      self->choices[i] = GTK_DROP_DOWN (drop);
      self->keys[i] = g_ptr_array_new_with_free_func (g_free);
      gtk_accessible_update_property (GTK_ACCESSIBLE (drop), GTK_ACCESSIBLE_PROPERTY_LABEL, names[i], -1);
      app_drop_down_mend (self->choices[i], TRUE);
      g_signal_connect_object (drop, "notify::selected", G_CALLBACK (chosen_cb), self, G_CONNECT_SWAPPED);
      app_wrap_append (APP_WRAP (wrap), drop);
    }
  self->near_moult = GTK_TOGGLE_BUTTON (gtk_toggle_button_new_with_label (C_ ("calendar", "Near a moult")));
  g_signal_connect_object (self->near_moult, "toggled", G_CALLBACK (chosen_cb), self, G_CONNECT_SWAPPED);
  app_wrap_append (APP_WRAP (wrap), GTK_WIDGET (self->near_moult));
}
