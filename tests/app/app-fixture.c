/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-fixture.c — see app-fixture.h. */
#include "app-fixture.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/app-application.h"
#include "app/app-form.h"

gboolean
app_test_init (int *argc, char ***argv)
{
  app_locale_init ();
  if (g_strcmp0 (g_getenv ("LANGUAGE"), "de") == 0) /* a run that is to be German is */
    g_assert_cmpstr (g_dpgettext2 (GETTEXT_PACKAGE, "menu", "_Dark"), ==, "_Dunkel");
  if (!gtk_init_check ())
    {
      g_print ("1..0 # SKIP no display\n");
      return FALSE;
    }
  adw_init ();
  g_test_init (argc, argv, NULL);
  app_style_init ();
  return TRUE;
}

AdwApplication *
app_test_application (void)
{
  static AppApplication *application;
  g_autoptr (GError) error = NULL;

  if (application == NULL)
    {
      application = app_application_new ();
      g_application_set_flags (G_APPLICATION (application), G_APPLICATION_NON_UNIQUE);
      g_application_register (G_APPLICATION (application), NULL, &error);
      g_assert_no_error (error);
    }
  return ADW_APPLICATION (application);
}

void
app_settle (void)
{
  for (int i = 0; i < 400 && g_main_context_iteration (NULL, FALSE); i++)
    ;
}

/* ---- the room ---- */

void
room_set_up (Room *room, gconstpointer data)
{
  static const char *const cups[ROOM_CUPS] = {
    "species=hierodula number=14 hatched=2026-02-01 stage=L4 place=A at=1",
    "species=hierodula number=22 hatched=2026-02-01 stage=L4 place=A at=2",
    "species=tenodera number=31 acquired=2026-05-01 stage=L5 place=A at=3",
    "species=hymenopus number=52 hatched=2026-03-01 place=A at=4",
    "species=unknown number=61 acquired=2026-05-20 place=A at=5",
    "species=hierodula number=70 hatched=2026-01-01 stage=adult place=B at=1",
  };
  Desk *desk;

  fixture_set_up (&room->journal, NULL);
  desk = room->journal.desk;
  room->shelf_a = fixture_add (desk, CORE_SUBJECT_PLACE, "name=Alcove code=A day_c=25 night_c=21");
  room->shelf_b = fixture_add (desk, CORE_SUBJECT_PLACE, "name=Corner code=B day_c=24 night_c=20");
  for (guint i = 0; i < ROOM_CUPS; i++)
    room->cups[i] = fixture_add (desk, CORE_SUBJECT_ANIMAL, cups[i]);
}

void
room_open_window (Room *room)
{
  room->window = g_object_ref_sink (app_window_new (app_test_application ()));
  room->window->fixed_today = TRUE; /* no test knows what the clock says */
  _app_window_set_desk (room->window, room->journal.desk);
  gtk_window_present (GTK_WINDOW (room->window));
  gtk_test_widget_wait_for_draw (GTK_WIDGET (room->window));
}

void
room_set_up_window (Room *room, gconstpointer data)
{
  room_set_up (room, data);
  room_open_window (room);
}

void
room_close_window (Room *room)
{
  if (room->window == NULL)
    return;
  gtk_window_destroy (GTK_WINDOW (room->window));
  app_settle ();
  g_assert_finalize_object (g_steal_pointer (&room->window));
}

void
room_tear_down (Room *room, gconstpointer data)
{
  room_close_window (room);
  for (guint i = 0; i < ROOM_CUPS; i++)
    desk_subject_unref (room->cups[i]);
  desk_subject_unref (room->shelf_a);
  desk_subject_unref (room->shelf_b);
  fixture_tear_down (&room->journal, NULL);
}

gsize
room_n_entries (Room *room, guint cup)
{
  Desk *desk = room->journal.desk;
  g_autoptr (GPtrArray) history = desk_history (desk, desk_subject_id (room->cups[cup]), NULL);
  gsize n = 0;

  for (guint i = 0; i < history->len; i++)
    {
      const CoreEntry *entry = g_ptr_array_index (history, i);

      if (entry->kind != CORE_KIND_VOID && desk_entry_is_live (desk, entry->id))
        n++;
    }
  return n;
}

const CoreEntry *
room_last (Room *room, guint cup)
{
  g_autoptr (GPtrArray) history =
    desk_history (room->journal.desk, desk_subject_id (room->cups[cup]), NULL);
  const CoreEntry *last = NULL;

  for (guint i = 0; i < history->len; i++) /* by the moment written, not by the day */
    {
      const CoreEntry *entry = g_ptr_array_index (history, i);

      if (last == NULL || core_id_compare (entry->id, last->id) > 0)
        last = entry;
    }
  return last;
}

char *
room_file (Room *room, const char *name, GBytes *bytes)
{
  g_autoptr (GError) error = NULL;
  char *path = g_strdup_printf ("%s/%s", room->journal.dir, name);

  g_file_set_contents (path, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes),
                       &error);
  g_assert_no_error (error);
  return path;
}

/* ---- finding ---- */

typedef gboolean (*Wanted) (GtkWidget *widget, gconstpointer what);

static guint
walk (GtkWidget *root, Wanted wanted, gconstpointer what, GtkWidget **first)
{
  guint n = 0;

  if (wanted (root, what))
    {
      n = 1;
      if (*first == NULL)
        *first = root;
    }
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    n += walk (child, wanted, what, first);
  return n;
}

static gboolean
is_of_type (GtkWidget *widget, gconstpointer what)
{
  return g_type_is_a (G_OBJECT_TYPE (widget), *(const GType *) what);
}

GtkWidget *
app_find (gpointer root, GType type)
{
  GtkWidget *first = NULL;

  walk (GTK_WIDGET (root), is_of_type, &type, &first);
  return first;
}

guint
app_count (gpointer root, GType type)
{
  GtkWidget *first = NULL;

  return walk (GTK_WIDGET (root), is_of_type, &type, &first);
}

static gboolean
says (GtkWidget *widget, gconstpointer what)
{
  return GTK_IS_LABEL (widget) &&
         strstr (gtk_label_get_text (GTK_LABEL (widget)), (const char *) what) != NULL;
}

GtkWidget *
app_find_words (gpointer root, const char *part)
{
  GtkWidget *first = NULL;

  walk (GTK_WIDGET (root), says, part, &first);
  return first;
}

guint
app_count_words (gpointer root, const char *part)
{
  GtkWidget *first = NULL;

  return walk (GTK_WIDGET (root), says, part, &first);
}

static gboolean
is_button_of (GtkWidget *widget, gconstpointer what)
{
  GtkWidget *words = GTK_IS_BUTTON (widget) ? app_find (widget, GTK_TYPE_LABEL) : NULL;

  return words != NULL && g_str_equal (gtk_label_get_text (GTK_LABEL (words)), (const char *) what);
}

GtkWidget *
app_find_button (gpointer root, const char *label)
{
  GtkWidget *first = NULL;

  walk (GTK_WIDGET (root), is_button_of, label, &first);
  return first;
}

typedef struct
{
  GType type;
  const char *label;
} Labelled;

static gboolean
is_labelled (GtkWidget *widget, gconstpointer what)
{
  const Labelled *wanted = what;
  g_autofree char *other = NULL;

  if (!g_type_is_a (G_OBJECT_TYPE (widget), wanted->type))
    return FALSE;
  other = gtk_test_accessible_check_property (GTK_ACCESSIBLE (widget),
                                              GTK_ACCESSIBLE_PROPERTY_LABEL, wanted->label);
  return other == NULL;
}

GtkWidget *
app_find_labelled (gpointer root, GType type, const char *label)
{
  GtkWidget *first = NULL;
  Labelled wanted = { type, label };

  walk (GTK_WIDGET (root), is_labelled, &wanted, &first);
  return first;
}

GtkWindow *
app_form_on_top (void)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *l = windows; l != NULL; l = l->next)
    if (APP_IS_FORM (l->data))
      return l->data;
  return NULL;
}

const char *
app_said (AppWindow *window)
{
  return gtk_widget_get_visible (GTK_WIDGET (window->said_revealer))
           ? gtk_label_get_text (window->said)
           : "";
}

/* ---- hands ---- */

void
app_press (GtkWidget *button)
{
  g_assert_nonnull (button);
  g_assert_true (gtk_widget_get_sensitive (button));
  g_signal_emit_by_name (button, "clicked");
  app_settle ();
}

gboolean
app_key_at_once (gpointer widget, guint keyval, GdkModifierType state)
{
  g_autoptr (GListModel) all = gtk_widget_observe_controllers (GTK_WIDGET (widget));
  gboolean taken = FALSE;

  for (guint i = 0; !taken && i < g_list_model_get_n_items (all); i++)
    {
      g_autoptr (GtkEventController) one = g_list_model_get_item (all, i);

      if (GTK_IS_EVENT_CONTROLLER_KEY (one))
        g_signal_emit_by_name (one, "key-pressed", keyval, 0, state, &taken);
    }
  return taken;
}

gboolean
app_key (gpointer widget, guint keyval, GdkModifierType state)
{
  gboolean taken = app_key_at_once (widget, keyval, state);

  app_settle ();
  return taken;
}

gboolean
app_key_up (gpointer widget, guint keyval, GdkModifierType state)
{
  for (GtkWidget *at = GTK_WIDGET (widget); at != NULL; at = gtk_widget_get_parent (at))
    if (app_key (at, keyval, state))
      return TRUE;
  return FALSE;
}

gboolean
app_drop_value (gpointer widget, const GValue *value, double x, double y)
{
  g_autoptr (GListModel) all = gtk_widget_observe_controllers (GTK_WIDGET (widget));
  gboolean taken = FALSE;

  for (guint i = 0; !taken && i < g_list_model_get_n_items (all); i++)
    {
      g_autoptr (GtkEventController) one = g_list_model_get_item (all, i);

      if (GTK_IS_DROP_TARGET (one) &&
          gdk_content_formats_contain_gtype (gtk_drop_target_get_formats (GTK_DROP_TARGET (one)), G_VALUE_TYPE (value)))
        g_signal_emit_by_name (one, "drop", value, x, y, &taken);
    }
  app_settle ();
  return taken;
}

gboolean
app_drop_file (gpointer widget, const char *path, double x, double y)
{
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GSList) files = g_slist_prepend (NULL, file);
  g_auto (GValue) value = G_VALUE_INIT;

  g_value_init (&value, GDK_TYPE_FILE_LIST);
  g_value_set_boxed (&value, files);
  return app_drop_value (widget, &value, x, y);
}

/* ---- parts of the page of shelves ---- */

AppBoards *
boards_of (Room *room)
{
  return APP_BOARDS (app_find (room->window, APP_TYPE_BOARDS));
}

AppStory *
story_of (Room *room)
{
  return APP_STORY (app_find (room->window, APP_TYPE_STORY));
}

AppQuick *
quick_of (Room *room)
{
  return APP_QUICK (app_find (story_of (room), APP_TYPE_QUICK));
}

AppCup *
cup_of (Room *room, const char *number)
{
  AppCup *cup = app_boards_find_number (boards_of (room), number);

  g_assert_nonnull (cup);
  return cup;
}

/* Nothing that it lies in ends before it does; what scrolls does so up and down. */
static gboolean
within_its_parents (GtkWidget *at)
{
  for (GtkWidget *parent = gtk_widget_get_parent (at); parent != NULL; at = parent, parent = gtk_widget_get_parent (at))
    {
      graphene_rect_t box;

      if (!gtk_widget_compute_bounds (at, parent, &box) || box.origin.x < -1 ||
          box.origin.x + box.size.width > gtk_widget_get_width (parent) + 1)
        return FALSE;
    }
  return TRUE;
}

void
app_none_is_cut (GtkWidget *at)
{
  if (GTK_IS_LABEL (at) && gtk_widget_get_mapped (at))
    {
      PangoLayout *layout = gtk_label_get_layout (GTK_LABEL (at));
      int width, height;

      pango_layout_get_pixel_size (layout, &width, &height);
      g_test_message ("%s", gtk_label_get_text (GTK_LABEL (at)));
      g_assert_false (pango_layout_is_ellipsized (layout));
      g_assert_cmpint (width, <=, gtk_widget_get_width (at) + 1);
      g_assert_cmpint (height, <=, gtk_widget_get_height (at) + 1);
      g_assert_true (within_its_parents (at));
    }
  for (GtkWidget *child = gtk_widget_get_first_child (at); child != NULL; child = gtk_widget_get_next_sibling (child))
    app_none_is_cut (child);
}
