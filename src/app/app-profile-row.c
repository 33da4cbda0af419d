/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-profile-row.c — see app-profile-row.h. */
#include "app/app-profile-row.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/app-drop-down.h"
#include "app/app-widgets.h"
#include "words/words-profile.h"

struct _AppProfileRow
{
  GtkBox parent_instance;

  char *group, *key;
  const DeskProfileView *view; /* borrowed */

  /* Children, borrowed */
  GtkLabel *value;
  GtkWidget *change;
  GtkLabel *from, *other, *note, *shipped;
  GtkWidget *back;
  GtkWidget *editor; /* hidden until it is asked for */
  GtkWidget *field;  /* an entry, a drop-down, or a box of check buttons */
  GtkLabel *problem;
};

G_DEFINE_FINAL_TYPE (AppProfileRow, app_profile_row, GTK_TYPE_BOX)

enum
{
  EDIT,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static WordsProfileForm
form_of (AppProfileRow *self)
{
  return words_profile_form (self->group, self->key);
}

static const char *
name_of (AppProfileRow *self)
{
  return words_profile_label (WORDS_LOCAL, self->group, self->key);
}

static const char *const *
preys (void)
{
  return core_kind_key (CORE_KIND_FED, CORE_KEY_PREY)->words;
}

/* ---- the field ---- */

static GtkWidget *
choice_new (const char *const *words, AppProfileRow *self)
{
  GtkStringList *names = gtk_string_list_new (NULL);
  GtkWidget *choice;

  for (guint i = 0; words[i] != NULL; i++)
    {
      g_autofree char *name = words_profile_value (WORDS_LOCAL, self->group, self->key, words[i]);

      gtk_string_list_append (names, name);
    }
  choice = gtk_drop_down_new (G_LIST_MODEL (names), NULL);
  app_drop_down_mend (GTK_DROP_DOWN (choice), TRUE);
  return choice;
}

static GtkWidget *
checks_new (void)
{
  GtkWidget *box = gtk_flow_box_new ();

  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (box), GTK_SELECTION_NONE);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (box), 4);
  for (int i = 0; preys ()[i] != NULL; i++)
    {
      GtkWidget *child = gtk_flow_box_child_new ();

      gtk_widget_set_focusable (child, FALSE); /* its button is */
      gtk_flow_box_child_set_child (GTK_FLOW_BOX_CHILD (child),
                                    gtk_check_button_new_with_label (words_prey_one (WORDS_LOCAL, i)));
      gtk_flow_box_append (GTK_FLOW_BOX (box), child);
    }
  return box;
}

static GtkCheckButton *
check_at (GtkWidget *box, int i)
{
  GtkFlowBoxChild *child = gtk_flow_box_get_child_at_index (GTK_FLOW_BOX (box), i);

  return child != NULL ? GTK_CHECK_BUTTON (gtk_flow_box_child_get_child (child)) : NULL;
}

static void
fill_checks (GtkWidget *box, const char *value)
{
  g_auto (GStrv) parts = g_strsplit (value, ";", -1);

  for (int i = 0; preys ()[i] != NULL; i++)
    gtk_check_button_set_active (check_at (box, i), g_strv_contains ((const char *const *) parts, preys ()[i]));
}

static char *
typed_checks (GtkWidget *box)
{
  GString *out = g_string_new (NULL);

  for (int i = 0; preys ()[i] != NULL; i++)
    if (gtk_check_button_get_active (check_at (box, i)))
      g_string_append_printf (out, "%s%s", out->len > 0 ? ";" : "", preys ()[i]);
  return g_string_free (out, FALSE);
}

static void
fill (AppProfileRow *self, const char *value)
{
  const char *const *words = words_profile_choices (form_of (self));
  g_autofree char *typed = words_profile_typed (WORDS_LOCAL, self->group, self->key, value);

  if (GTK_IS_FLOW_BOX (self->field))
    fill_checks (self->field, value);
  else if (words != NULL)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->field), (guint) MAX (0, core_word_index (words, value)));
  else
    gtk_editable_set_text (GTK_EDITABLE (self->field), typed);
}

static char *
typed (AppProfileRow *self)
{
  const char *const *words = words_profile_choices (form_of (self));

  if (GTK_IS_FLOW_BOX (self->field))
    return typed_checks (self->field);
  if (words != NULL)
    return g_strdup (words[gtk_drop_down_get_selected (GTK_DROP_DOWN (self->field))]);
  return g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->field)));
}

/* ---- editing ---- */

static void
to_field (AppProfileRow *self)
{
  GtkWidget *first = GTK_IS_FLOW_BOX (self->field) ? GTK_WIDGET (check_at (self->field, 0)) : self->field;

  gtk_widget_grab_focus (first);
}

void
app_profile_row_refuse (AppProfileRow *self, const char *why)
{
  g_return_if_fail (APP_IS_PROFILE_ROW (self));
  if (self->editor == NULL)
    return;
  gtk_label_set_label (self->problem, why);
  gtk_widget_set_visible (GTK_WIDGET (self->problem), why[0] != '\0');
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->field), GTK_ACCESSIBLE_STATE_INVALID,
                               why[0] != '\0' ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
  if (why[0] != '\0')
    to_field (self);
}

static void
close_editor (AppProfileRow *self)
{
  if (self->editor == NULL)
    return;
  app_profile_row_refuse (self, "");
  gtk_widget_set_visible (self->editor, FALSE);
  gtk_widget_set_visible (self->change, TRUE);
}

void
app_profile_row_done (AppProfileRow *self)
{
  gboolean had = self->editor != NULL && gtk_widget_get_visible (self->editor);

  g_return_if_fail (APP_IS_PROFILE_ROW (self));
  close_editor (self);
  if (had || gtk_widget_has_focus (self->back))
    gtk_widget_grab_focus (self->change);
}

static void
cancel_cb (GtkWidget *widget, AppProfileRow *self)
{
  close_editor (self);
  gtk_widget_grab_focus (self->change);
}

static gboolean
key_cb (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state, AppProfileRow *self)
{
  if (keyval != GDK_KEY_Escape)
    return FALSE;
  cancel_cb (NULL, self);
  return TRUE;
}

static void
save_cb (GtkWidget *widget, AppProfileRow *self)
{
  g_autofree char *text = typed (self);
  g_autofree char *stored = NULL;
  g_autofree char *why =
    self->view != NULL ? desk_profile_try (self->view, self->group, self->key, text, &stored) : NULL;
  g_autofree char *edit = g_strdup_printf ("%s.%s=%s", self->group, self->key, text);
  g_autofree char *sentence = why != NULL ? g_strconcat (why, ".", NULL) : NULL;

  if (sentence != NULL)
    app_profile_row_refuse (self, sentence);
  else
    g_signal_emit (self, signals[EDIT], 0, edit);
}

static void
back_cb (GtkWidget *widget, AppProfileRow *self)
{
  g_autofree char *edit = g_strdup_printf ("%s.%s", self->group, self->key);

  g_signal_emit (self, signals[EDIT], 0, edit);
}

static GtkWidget *
field_new (AppProfileRow *self)
{
  const char *const *words = words_profile_choices (form_of (self));
  GtkWidget *field;

  if (form_of (self) == WORDS_FORM_PREY)
    field = checks_new ();
  else if (words != NULL)
    field = choice_new (words, self);
  else
    {
      field = gtk_entry_new ();
      gtk_entry_set_max_length (GTK_ENTRY (field), 300);
      g_signal_connect_object (field, "activate", G_CALLBACK (save_cb), self, 0);
    }
  gtk_widget_set_hexpand (field, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (field), GTK_ACCESSIBLE_PROPERTY_LABEL, name_of (self), -1);
  app_take_digits (field);
  return field;
}

static void
make_editor (AppProfileRow *self, const DeskProfileValue *value)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *save = gtk_button_new_with_label (C_ ("profiles", "Save"));
  GtkWidget *cancel = gtk_button_new_with_label (C_ ("profiles", "Cancel"));
  GtkEventController *keys = gtk_event_controller_key_new ();
  g_autofree char *hint = words_profile_hint (WORDS_LOCAL, self->group, self->key, value->min, value->max);

  self->editor = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  self->field = field_new (self);
  gtk_box_append (GTK_BOX (line), self->field);
  gtk_widget_set_valign (save, GTK_ALIGN_START);
  gtk_widget_set_valign (cancel, GTK_ALIGN_START);
  gtk_widget_add_css_class (cancel, "quiet");
  gtk_box_append (GTK_BOX (line), save);
  gtk_box_append (GTK_BOX (line), cancel);
  gtk_box_append (GTK_BOX (self->editor), line);
  if (hint[0] != '\0')
    app_text (self->editor, hint, "dim");
  self->problem = app_text (self->editor, "", "trouble");
  gtk_accessible_update_relation (GTK_ACCESSIBLE (self->field), GTK_ACCESSIBLE_RELATION_DESCRIBED_BY, self->problem, NULL,
                                  -1);
  g_signal_connect_object (save, "clicked", G_CALLBACK (save_cb), self, 0);
  g_signal_connect_object (cancel, "clicked", G_CALLBACK (cancel_cb), self, 0);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_widget_add_controller (self->editor, keys);
  gtk_box_append (GTK_BOX (self), self->editor);
}

static void
change_cb (GtkWidget *widget, AppProfileRow *self)
{
  const DeskProfileValue *value =
    self->view != NULL ? desk_profile_value (self->view, self->group, self->key) : NULL;

  if (value == NULL)
    return;
  if (self->editor == NULL)
    make_editor (self, value);
  fill (self, value->value);
  app_profile_row_refuse (self, "");
  gtk_widget_set_visible (self->editor, TRUE);
  gtk_widget_set_visible (self->change, FALSE);
  to_field (self);
}

/* ---- what it shows ---- */

static void
say (GtkLabel *label, char *text)
{
  gtk_label_set_label (label, text != NULL ? text : "");
  gtk_widget_set_visible (GTK_WIDGET (label), text != NULL && text[0] != '\0');
  g_free (text);
}

static char *
with_origin (const char *said, const char *from, const char *const *ids)
{
  g_autofree char *origin = words_profile_from (WORDS_LOCAL, from != NULL ? from : "", ids);

  return origin[0] != '\0' ? g_strdup_printf ("%s (%s)", said, origin) : g_strdup (said);
}

static char *
other_words (AppProfileRow *self, const DeskProfileValue *value, const char *const *ids)
{
  g_autofree char *said =
    value->other != NULL ? words_profile_value (WORDS_LOCAL, self->group, self->key, value->other) : NULL;
  g_autofree char *whole = said != NULL ? with_origin (said, value->other_from, ids) : NULL;

  /* Translators: the other side where keepers disagree: "Others say: 20–28 °C (common practice)" */
  return whole != NULL ? g_strdup_printf (C_ ("profiles", "Others say: %s"), whole) : NULL;
}

static char *
shipped_words (AppProfileRow *self, const DeskProfileView *view, const DeskProfileValue *value, const char *const *ids)
{
  g_autofree char *said =
    value->own && view->shipped && value->shipped != NULL
      ? words_profile_value (WORDS_LOCAL, self->group, self->key, value->shipped)
      : NULL;
  g_autofree char *whole = said != NULL ? with_origin (said, value->shipped_from, ids) : NULL;

  return whole != NULL ? g_strdup_printf (C_ ("profiles", "Shipped: %s"), whole) : NULL;
}

static char *
from_words (const DeskProfileValue *value, const char *const *ids)
{
  if (!value->stands)
    return g_strdup (C_ ("profiles", "table of the group"));
  return words_profile_from (WORDS_LOCAL, value->from != NULL ? value->from : "", ids);
}

/* Notes stand in the file in English and in German. */
const char *
app_profile_note (const DeskProfileValue *value)
{
  /* Translators: not shown; "de" where the German notes of the files are to stand, else "en" */
  gboolean german = g_str_has_prefix (C_ ("profiles language of notes", "en"), "de");

  return german && value->note_de != NULL ? value->note_de : value->note;
}

void
app_profile_row_show (AppProfileRow *self, const DeskProfileView *view, const char *const *ids, gboolean editable)
{
  const DeskProfileValue *value = desk_profile_value (view, self->group, self->key);
  g_autofree char *name = NULL;
  gboolean own;

  g_return_if_fail (APP_IS_PROFILE_ROW (self));
  self->view = view;
  if (value == NULL)
    return;
  own = value->own && view->shipped;
  say (self->value, words_profile_value (WORDS_LOCAL, self->group, self->key, value->value));
  say (self->from, from_words (value, ids));
  say (self->other, other_words (self, value, ids));
  say (self->note, g_strdup (app_profile_note (value)));
  say (self->shipped, shipped_words (self, view, value, ids));
  if (own)
    gtk_widget_add_css_class (GTK_WIDGET (self->value), "leaf");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self->value), "leaf");
  gtk_widget_set_visible (self->back, own);
  gtk_widget_set_sensitive (self->back, editable);
  gtk_widget_set_sensitive (self->change, editable);
  /* Translators: a button beside a value; %1$s is its name, %2$s what it is now */
  name = g_strdup_printf (C_ ("profiles", "Change: %1$s, now %2$s"), name_of (self), gtk_label_get_label (self->value));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->change), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

const char *
app_profile_row_group (AppProfileRow *self)
{
  return self->group;
}

gboolean
app_profile_row_is (AppProfileRow *self, const char *group, const char *key)
{
  return strcmp (self->group, group) == 0 && strcmp (self->key, key) == 0;
}

/* ---- the row ---- */

static void
finalize (GObject *object)
{
  AppProfileRow *self = APP_PROFILE_ROW (object);

  g_free (self->group);
  g_free (self->key);
  G_OBJECT_CLASS (app_profile_row_parent_class)->finalize (object);
}

static void
app_profile_row_class_init (AppProfileRowClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = finalize;
  signals[EDIT] = g_signal_new ("edit", APP_TYPE_PROFILE_ROW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                                G_TYPE_STRING);
}

static void
app_profile_row_init (AppProfileRow *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 0);
  gtk_widget_set_margin_top (GTK_WIDGET (self), 6);
}

static void
build_top (AppProfileRow *self)
{
  GtkWidget *top = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkLabel *label = app_text (top, name_of (self), NULL);

  gtk_widget_set_hexpand (GTK_WIDGET (label), TRUE);
  gtk_widget_set_valign (GTK_WIDGET (label), GTK_ALIGN_CENTER);
  self->value = app_text (top, "", "strong");
  gtk_widget_add_css_class (GTK_WIDGET (self->value), "numbers");
  gtk_label_set_xalign (self->value, 1);
  gtk_label_set_max_width_chars (self->value, 34);
  gtk_widget_set_valign (GTK_WIDGET (self->value), GTK_ALIGN_CENTER);
  self->change = gtk_button_new_with_label (C_ ("profiles", "Change"));
  gtk_widget_add_css_class (self->change, "quiet");
  gtk_widget_set_valign (self->change, GTK_ALIGN_CENTER);
  g_signal_connect_object (self->change, "clicked", G_CALLBACK (change_cb), self, 0);
  gtk_box_append (GTK_BOX (top), self->change);
  gtk_box_append (GTK_BOX (self), top);
}

GtkWidget *
app_profile_row_new (const char *group, const char *key)
{
  AppProfileRow *self = g_object_new (APP_TYPE_PROFILE_ROW, NULL);
  GtkWidget *back_line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  g_autofree char *name = NULL;

  self->group = g_strdup (group);
  self->key = g_strdup (key);
  build_top (self);
  self->from = app_text (GTK_WIDGET (self), "", "dim");
  self->other = app_text (GTK_WIDGET (self), "", "dim");
  self->note = app_text (GTK_WIDGET (self), "", "dim");
  self->shipped = app_text (back_line, "", NULL);
  gtk_widget_set_hexpand (GTK_WIDGET (self->shipped), TRUE);
  self->back = gtk_button_new_with_label (C_ ("profiles", "Back to the shipped value"));
  gtk_widget_add_css_class (self->back, "quiet");
  name = g_strdup_printf (C_ ("profiles", "Back to the shipped value: %s"), name_of (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->back), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect_object (self->back, "clicked", G_CALLBACK (back_cb), self, 0);
  gtk_box_append (GTK_BOX (back_line), self->back);
  gtk_box_append (GTK_BOX (self), back_line);
  return GTK_WIDGET (self);
}
