/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-shelves-page.c — puts together places, sentence, boards, story and round line.
 *
 * It shows what the desk says and writes nothing itself but the order of cups. */
#include "app/app-shelves-page.h"

#include <glib/gi18n.h>

#include "app/app-boards.h"
#include "app/app-round-bar.h"
#include "app/app-round-line.h"
#include "app/app-story.h"
#include "app/app-symbol.h"
#include "app/app-swap.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-window.h"
#include "desk/move-in-model.h"

struct _AppShelvesPage
{
  AppDeskPage parent_instance;

  /* Template children, borrowed */
  AdwFlap *flap;
  GtkBox *places;
  GtkLabel *sentence;
  GtkLabel *left; /* from earlier evenings */
  GtkStack *middle;
  AppBoards *boards;
  AppSymbol *empty_symbol;
  GtkLabel *empty_words;
  GtkButton *empty_button;
  GtkButton *empty_other;
  AppRoundBar *round_bar;
  AppRoundLine *round_line;
  AppStory *story;

  CoreId place;     /* the one shown */
  gboolean nowhere; /* what stands on no shelf is shown; `place` is none */
  guint clock_id;
  guint refresh_id;
};

G_DEFINE_FINAL_TYPE (AppShelvesPage, app_shelves_page, APP_TYPE_DESK_PAGE)

#define CLOCK_SECONDS 20 /* how soon midnight and 4 o'clock are noticed */

static void refresh (AppShelvesPage *self);
static gboolean clock_cb (gpointer data);

/* ---- places ---- */

/* Those of a shelf, or of none. */
static GPtrArray *
subjects_on (Desk *desk, CoreId place)
{
  return core_id_is_none (place) ? desk_subjects_nowhere (desk) : desk_subjects_on (desk, place);
}

static CoreId
id_of_place (DeskSubject *place)
{
  CoreId none = { { 0 } };

  return place != NULL ? desk_subject_id (place) : none;
}

static guint
count_due (Desk *desk, CoreId place)
{
  g_autoptr (GPtrArray) cups = subjects_on (desk, place);
  guint due = 0;

  for (guint i = 0; i < cups->len; i++)
    if (app_subject_is_due (g_ptr_array_index (cups, i), desk_today (desk)))
      due++;
  return due;
}

static void
place_toggled_cb (GtkToggleButton *button, AppShelvesPage *self)
{
  const CoreId *id = g_object_get_data (G_OBJECT (button), "place");

  if (gtk_toggle_button_get_active (button) && !core_id_equal (*id, self->place))
    app_shelves_page_show_place (self, *id);
}

/* What the button of a place says: its name, and of how many cups something is due. NULL: what stands on
 * no shelf, of which nobody would see that it is due. */
static void
name_place (AppShelvesPage *self, GtkWidget *button, DeskSubject *place)
{
  CoreId id = id_of_place (place);
  const char *called = place != NULL ? desk_place_name (place) : C_ ("shelves", "On no shelf");
  guint due = count_due (app_desk_page_desk (self), id);
  GtkWidget *box = gtk_button_get_child (GTK_BUTTON (button));
  GtkWidget *name = gtk_widget_get_first_child (box);
  GtkWidget *count = gtk_widget_get_next_sibling (name);
  g_autofree char *number = g_strdup_printf ("%u", due);
  g_autofree char *label = g_strdup_printf (
    g_dngettext (GETTEXT_PACKAGE, "%s: %u cup due", "%s: %u cups due", due), called, due);

  gtk_label_set_label (GTK_LABEL (name), called);
  gtk_label_set_label (GTK_LABEL (count), due > 0 ? number : "·");
  if (due > 0)
    gtk_widget_add_css_class (count, "count");
  else
    gtk_widget_remove_css_class (count, "count");
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), core_id_equal (id, self->place));
}

static GtkWidget *
place_button (AppShelvesPage *self, DeskSubject *place)
{
  GtkWidget *button = gtk_toggle_button_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 9);
  CoreId id = id_of_place (place);

  gtk_box_append (GTK_BOX (box), gtk_label_new (NULL));
  gtk_box_append (GTK_BOX (box), gtk_label_new (NULL));
  gtk_button_set_child (GTK_BUTTON (button), box);
  g_object_set_data_full (G_OBJECT (button), "place", g_memdup2 (&id, sizeof id), g_free);
  g_signal_connect_object (button, "toggled", G_CALLBACK (place_toggled_cb), self, 0);
  return button;
}

/* Do the buttons stand for these places, in this order? */
static gboolean
places_stand (AppShelvesPage *self, GPtrArray *places)
{
  GtkWidget *button = gtk_widget_get_first_child (GTK_WIDGET (self->places));
  guint i = 0;

  for (; button != NULL && i < places->len; button = gtk_widget_get_next_sibling (button), i++)
    {
      CoreId *id = g_object_get_data (G_OBJECT (button), "place");

      if (!core_id_equal (*id, id_of_place (g_ptr_array_index (places, i))))
        return FALSE;
    }
  return button == NULL && i == places->len;
}

static void
make_places (AppShelvesPage *self, GPtrArray *places)
{
  GtkToggleButton *group = NULL;

  app_box_empty (self->places);
  for (guint i = 0; i < places->len; i++)
    {
      GtkWidget *button = place_button (self, g_ptr_array_index (places, i));

      if (group != NULL)
        gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (button), group);
      group = GTK_TOGGLE_BUTTON (button);
      gtk_box_append (self->places, button);
    }
}

/* Buttons stay while the places do: one made anew would lose the focus, and a press not yet let go. */
static void
refresh_places (AppShelvesPage *self, GPtrArray *places)
{
  GtkWidget *button;
  guint i = 0;

  if (!places_stand (self, places))
    make_places (self, places);
  for (button = gtk_widget_get_first_child (GTK_WIDGET (self->places)); button != NULL;
       button = gtk_widget_get_next_sibling (button))
    name_place (self, button, g_ptr_array_index (places, i++));
}

/* ---- boards ---- */

static void
chosen_cb (AppBoards *boards, AppCup *cup, AppShelvesPage *self)
{
  g_autoptr (DeskSubject) subject = NULL;

  if (cup != NULL && app_desk_page_desk (self) != NULL)
    subject = desk_get (app_desk_page_desk (self), app_cup_get_data (cup)->id);
  app_story_set_subject (self->story, app_desk_page_desk (self), subject);
  adw_flap_set_reveal_flap (self->flap, subject != NULL);
}

static void
opened_cb (AppBoards *boards, AppCup *cup, AppShelvesPage *self)
{
  AppWindow *window = app_window_of (self);

  if (window != NULL)
    app_window_show_animal (window, app_cup_get_data (cup)->id);
}

static void
placed_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppShelvesPage) self = data;
  g_autoptr (GError) error = NULL;
  AppWindow *window = app_window_of (self);

  if (!desk_place_before_finish (DESK_DESK (source), result, &error) && window != NULL)
    app_window_say_error (window, error);
}

static void
moved_cb (AppBoards *boards, AppCup *cup, AppCup *before, AppShelvesPage *self)
{
  CoreId none = { { 0 } };

  if (app_desk_page_desk (self) != NULL && !core_id_is_none (self->place))
    desk_place_before_async (app_desk_page_desk (self), app_cup_get_data (cup)->id, self->place,
                             before != NULL ? app_cup_get_data (before)->id : none, placed_cb,
                             g_object_ref (self));
}

/* One cup dropped on another. */
static void
met_cb (AppBoards *boards, AppCup *cup, AppCup *other, AppShelvesPage *self)
{
  AppWindow *window = app_window_of (self);

  if (window != NULL && !core_id_is_none (self->place))
    app_swap_ask (window, self->place, app_cup_get_data (cup)->id, app_cup_get_data (other)->id);
}

static void
refresh_boards (AppShelvesPage *self)
{
  g_autoptr (GPtrArray) animals = subjects_on (app_desk_page_desk (self), self->place);
  g_autoptr (GPtrArray) cups = g_ptr_array_new ();
  g_autofree char *sentence = NULL;
  g_autofree char *left = NULL;

  for (guint i = 0; i < animals->len; i++)
    g_ptr_array_add (cups, app_cup_data_new (app_desk_page_desk (self), g_ptr_array_index (animals, i)));
  app_boards_set_cups (self->boards, cups);
  app_round_bar_refresh (self->round_bar);
  app_shelf_sentences (app_desk_page_desk (self), self->place, animals, &sentence, &left);
  gtk_label_set_label (self->sentence, sentence);
  gtk_label_set_label (self->left, left);
  gtk_widget_set_visible (GTK_WIDGET (self->left), left[0] != '\0');
}

typedef struct
{
  const char *symbol;
  const char *words;
  const char *button, *action;
  const char *other, *other_action; /* a second way on; NULL = none */
} Empty;

static void
show_empty (AppShelvesPage *self, const Empty *empty)
{
  app_symbol_set_name (self->empty_symbol, empty->symbol);
  gtk_label_set_label (self->empty_words, empty->words);
  gtk_button_set_label (self->empty_button, empty->button);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (self->empty_button), empty->action);
  gtk_widget_set_visible (GTK_WIDGET (self->empty_other), empty->other != NULL);
  if (empty->other != NULL)
    {
      gtk_button_set_label (self->empty_other, empty->other);
      gtk_actionable_set_action_name (GTK_ACTIONABLE (self->empty_other), empty->other_action);
    }
  gtk_label_set_label (self->sentence, "");
  gtk_widget_set_visible (GTK_WIDGET (self->left), FALSE);
  gtk_stack_set_visible_child_name (self->middle, "empty");
}

/* No shelf yet, or no animal in the whole journal: many can come at once. */
static void
show_empty_journal (AppShelvesPage *self, gboolean has_place)
{
  gboolean begun = move_in_model_has_draft (app_desk_page_desk (self));
  Empty empty = { "place",
                  C_ ("shelves", "This page mirrors your shelves: every cup where it stands, and what it needs today."),
                  begun ? C_ ("shelves", "Go on moving in") : C_ ("shelves", "Move in a collection"),
                  "win.move-in",
                  has_place ? C_ ("shelves", "Add an animal") : C_ ("shelves", "Add the first shelf"),
                  has_place ? "win.add-animal" : "win.add-place" };

  show_empty (self, &empty);
}

static void
show_empty_shelf (AppShelvesPage *self)
{
  Empty empty = { "animal", C_ ("shelves", "Nothing stands on this shelf yet."),
                  C_ ("shelves", "Add an animal"), "win.add-animal", NULL, NULL };

  show_empty (self, &empty);
}

static gboolean
has_animals (AppShelvesPage *self)
{
  g_autoptr (GPtrArray) animals = desk_animals (app_desk_page_desk (self));

  return animals->len > 0;
}

/* The shelf that is shown, else the first; none = the board of what stands on none, or an empty journal. */
static CoreId
first_place (AppShelvesPage *self, GPtrArray *places)
{
  CoreId none = { { 0 } };

  for (guint i = 0; i < places->len; i++)
    if (core_id_equal (id_of_place (g_ptr_array_index (places, i)), self->place) &&
        (self->nowhere || g_ptr_array_index (places, i) != NULL))
      return self->place;
  return places->len > 0 ? id_of_place (g_ptr_array_index (places, 0)) : none;
}

static void
unref_place (gpointer place)
{
  if (place != NULL)
    desk_subject_unref (place);
}

/* Each shelf, and NULL behind them where something stands on none. */
static GPtrArray *
places_shown (Desk *desk)
{
  g_autoptr (GPtrArray) places = desk_places (desk), nowhere = desk_subjects_nowhere (desk);
  GPtrArray *out = g_ptr_array_new_with_free_func (unref_place);

  for (guint i = 0; i < places->len; i++)
    g_ptr_array_add (out, desk_subject_ref (g_ptr_array_index (places, i)));
  if (nowhere->len > 0)
    g_ptr_array_add (out, NULL);
  return out;
}

static void
refresh (AppShelvesPage *self)
{
  g_autoptr (GPtrArray) places = NULL;
  g_autoptr (DeskSubject) place = NULL;

  g_clear_handle_id (&self->refresh_id, g_source_remove);
  if (app_desk_page_desk (self) == NULL)
    return;
  places = places_shown (app_desk_page_desk (self));
  self->place = first_place (self, places);
  self->nowhere = core_id_is_none (self->place) && places->len > 0;
  refresh_places (self, places);
  place = desk_get (app_desk_page_desk (self), self->place);
  (void) clock_cb (self);
  app_round_line_set_place (self->round_line, app_desk_page_desk (self), place);
  gtk_widget_set_visible (GTK_WIDGET (self->round_line), place != NULL);
  if (place == NULL && !self->nowhere)
    {
      show_empty_journal (self, FALSE);
      return;
    }
  refresh_boards (self);
  if (app_boards_n_cups (self->boards) == 0)
    {
      if (has_animals (self))
        show_empty_shelf (self);
      else
        show_empty_journal (self, TRUE);
    }
  else
    gtk_stack_set_visible_child_name (self->middle, "boards");
  chosen_cb (self->boards, app_boards_chosen (self->boards), self);
}

static gboolean
refresh_cb (gpointer data)
{
  AppShelvesPage *self = data;

  self->refresh_id = 0;
  refresh (self);
  return G_SOURCE_REMOVE;
}

/* A round changes every cup: they are drawn anew together, before the next frame. */
static void
changed (AppDeskPage *page, DeskSubject *subject)
{
  AppShelvesPage *self = APP_SHELVES_PAGE (page);

  if (self->refresh_id == 0)
    self->refresh_id = g_idle_add_full (GTK_PRIORITY_RESIZE - 5, refresh_cb, self, NULL);
}

static void
today_changed (AppDeskPage *page)
{
  refresh (APP_SHELVES_PAGE (page));
}

/* A letter on a cup journals for it and chooses it, so that one sees of whom it was written. */
static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppShelvesPage *self)
{
  GtkWidget *cup = gtk_widget_get_focus_child (GTK_WIDGET (self->boards));
  AppCup *before = app_boards_chosen (self->boards);

  if (app_round_bar_is_on (self->round_bar))
    return cup != NULL && app_round_bar_key (self->round_bar, APP_CUP (cup), keyval, state);
  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0 || cup == NULL
      || !g_unichar_isalpha (gdk_keyval_to_unicode (keyval)))
    return GDK_EVENT_PROPAGATE;
  app_boards_choose (self->boards, APP_CUP (cup));
  if (app_story_key (self->story, keyval))
    return GDK_EVENT_STOP;
  app_boards_choose (self->boards, before);
  return GDK_EVENT_PROPAGATE;
}

/* Marking begins on the cups. */
static void
cups_wanted_cb (AppRoundLine *line, gboolean on, AppShelvesPage *self)
{
  if (on)
    (void) gtk_widget_grab_focus (GTK_WIDGET (self));
}

static gboolean
clock_cb (gpointer data)
{
  AppShelvesPage *self = data;
  AppWindow *window = app_window_of (self);

  app_round_line_set_minute (self->round_line, window != NULL ? app_window_get_minute (window) : -1);
  return G_SOURCE_CONTINUE;
}

/* Pictures dropped on a cup are attached to it; between the cups they are those of a round. */
static gboolean
drop_cb (GtkDropTarget *target, const GValue *value, double x, double y, AppShelvesPage *self)
{
  g_autoptr (GSList) files = gdk_file_list_get_files (g_value_get_boxed (value));
  GtkWidget *cup = gtk_widget_pick (GTK_WIDGET (self->boards), x, y, GTK_PICK_DEFAULT);
  AppWindow *window = app_window_of (self);

  if (cup == NULL || !APP_IS_CUP (cup))
    {
      if (window != NULL && files != NULL)
        app_window_add_pictures (window, files);
      return window != NULL && files != NULL;
    }
  app_boards_choose (self->boards, APP_CUP (cup));
  for (GSList *l = files; l != NULL; l = l->next)
    app_story_attach (self->story, l->data);
  return files != NULL;
}

/* ---- object ---- */

static void
desk_set (AppDeskPage *page)
{
  AppShelvesPage *self = APP_SHELVES_PAGE (page);

  app_round_bar_set_on (self->round_bar, FALSE);
  app_boards_choose (self->boards, NULL);
  if (app_desk_page_desk (self) == NULL) /* none keeps a journal that is closed */
    {
      app_round_line_set_place (self->round_line, NULL, NULL);
      app_story_set_subject (self->story, NULL, NULL);
    }
  refresh (self);
}

#define NARROW 900 /* below this the story lies over the boards */

static void
layout_cb (GdkSurface *surface, int width, int height, AppShelvesPage *self)
{
  gboolean narrow = width < NARROW;

  adw_flap_set_fold_policy (self->flap, narrow ? ADW_FLAP_FOLD_POLICY_ALWAYS : ADW_FLAP_FOLD_POLICY_NEVER);
  app_round_line_set_narrow (self->round_line, narrow);
}

static void
realize_cb (AppShelvesPage *self)
{
  GdkSurface *surface = gtk_native_get_surface (gtk_widget_get_native (GTK_WIDGET (self)));

  g_signal_connect_object (surface, "layout", G_CALLBACK (layout_cb), self, 0);
}

/* On the chosen cup, else the first. */
static gboolean
focus (AppDeskPage *page)
{
  AppShelvesPage *self = APP_SHELVES_PAGE (page);
  AppCup *cup;

  if (g_strcmp0 (gtk_stack_get_visible_child_name (self->middle), "empty") == 0)
    return gtk_widget_grab_focus (GTK_WIDGET (self->empty_button));
  cup = app_boards_chosen (self->boards);
  if (cup == NULL)
    cup = app_boards_first (self->boards);
  return cup != NULL && gtk_widget_grab_focus (GTK_WIDGET (cup));
}

static void
dispose (GObject *object)
{
  AppShelvesPage *self = APP_SHELVES_PAGE (object);

  g_clear_handle_id (&self->clock_id, g_source_remove);
  g_clear_handle_id (&self->refresh_id, g_source_remove);
  app_template_dispose (GTK_WIDGET (self), APP_TYPE_SHELVES_PAGE);
  G_OBJECT_CLASS (app_shelves_page_parent_class)->dispose (object);
}

static void
app_shelves_page_class_init (AppShelvesPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  APP_DESK_PAGE_CLASS (klass)->focus = focus;
  APP_DESK_PAGE_CLASS (klass)->desk_set = desk_set;
  APP_DESK_PAGE_CLASS (klass)->changed = changed;
  APP_DESK_PAGE_CLASS (klass)->today_changed = today_changed;
  g_type_ensure (APP_TYPE_BOARDS);
  g_type_ensure (APP_TYPE_ROUND_BAR);
  g_type_ensure (APP_TYPE_ROUND_LINE);
  g_type_ensure (APP_TYPE_STORY);
  g_type_ensure (APP_TYPE_SYMBOL);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/shelves-page.ui");
  gtk_widget_class_bind_template_child (widget_class, AppShelvesPage, flap);
  gtk_widget_class_bind_template_child (widget_class, AppShelvesPage, places);
  gtk_widget_class_bind_template_child (widget_class, AppShelvesPage, sentence);
  gtk_widget_class_bind_template_child (widget_class, AppShelvesPage, left);
  gtk_widget_class_bind_template_child (widget_class, AppShelvesPage, middle);
  gtk_widget_class_bind_template_child (widget_class, AppShelvesPage, boards);
  gtk_widget_class_bind_template_child (widget_class, AppShelvesPage, empty_symbol);
  gtk_widget_class_bind_template_child (widget_class, AppShelvesPage, empty_words);
  gtk_widget_class_bind_template_child (widget_class, AppShelvesPage, empty_button);
  gtk_widget_class_bind_template_child (widget_class, AppShelvesPage, empty_other);
  gtk_widget_class_bind_template_child (widget_class, AppShelvesPage, round_bar);
  gtk_widget_class_bind_template_child (widget_class, AppShelvesPage, round_line);
  gtk_widget_class_bind_template_child (widget_class, AppShelvesPage, story);
}

static void
app_shelves_page_init (AppShelvesPage *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkDropTarget *drop = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);

  gtk_widget_init_template (GTK_WIDGET (self));
  app_symbol_set_size (self->empty_symbol, 72);
  gtk_widget_add_css_class (GTK_WIDGET (self->empty_symbol), "leaf");
  g_signal_connect (self, "realize", G_CALLBACK (realize_cb), NULL);
  g_signal_connect_object (self->boards, "chosen", G_CALLBACK (chosen_cb), self, 0);
  g_signal_connect_object (self->boards, "opened", G_CALLBACK (opened_cb), self, 0);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self->boards), keys);
  g_signal_connect_object (drop, "drop", G_CALLBACK (drop_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self->boards), GTK_EVENT_CONTROLLER (drop));
  g_signal_connect_object (self->boards, "moved", G_CALLBACK (moved_cb), self, 0);
  g_signal_connect_object (self->boards, "met", G_CALLBACK (met_cb), self, 0);
  app_round_bar_connect (self->round_bar, self->round_line, self->boards);
  g_signal_connect_object (self->round_line, "cups-wanted", G_CALLBACK (cups_wanted_cb), self, 0);
  self->clock_id = g_timeout_add_seconds (CLOCK_SECONDS, clock_cb, self);
}

GtkWidget *
app_shelves_page_new (void)
{
  return g_object_new (APP_TYPE_SHELVES_PAGE, NULL);
}

CoreId
app_shelves_page_place (AppShelvesPage *self)
{
  CoreId none = { { 0 } };

  g_return_val_if_fail (APP_IS_SHELVES_PAGE (self), none);
  return self->place;
}

CoreId
app_shelves_page_chosen (AppShelvesPage *self)
{
  CoreId none = { { 0 } };
  AppCup *cup;

  g_return_val_if_fail (APP_IS_SHELVES_PAGE (self), none);
  cup = app_boards_chosen (self->boards);
  return cup != NULL ? app_cup_get_data (cup)->id : none;
}

void
app_shelves_page_show_place (AppShelvesPage *self, CoreId place)
{
  g_return_if_fail (APP_IS_SHELVES_PAGE (self));

  app_boards_choose (self->boards, NULL);
  self->place = place;
  self->nowhere = core_id_is_none (place);
  app_round_bar_set_on (self->round_bar, FALSE);
  refresh (self);
}

gboolean
app_shelves_page_wants_digit (AppShelvesPage *self)
{
  g_return_val_if_fail (APP_IS_SHELVES_PAGE (self), FALSE);
  return app_round_bar_wants_digit (self->round_bar);
}

gboolean
app_shelves_page_is_marking (AppShelvesPage *self)
{
  g_return_val_if_fail (APP_IS_SHELVES_PAGE (self), FALSE);
  return app_round_bar_is_on (self->round_bar);
}

gboolean
app_shelves_page_show_animal (AppShelvesPage *self, DeskSubject *animal)
{
  CoreId shelf = { { 0 } }; /* on none */
  AppCup *cup;

  g_return_val_if_fail (APP_IS_SHELVES_PAGE (self), FALSE);
  if (app_desk_page_desk (self) == NULL || (!desk_subject_shelf (animal, &shelf) && !desk_subject_living (animal)))
    return FALSE;
  if (!core_id_equal (shelf, self->place))
    app_shelves_page_show_place (self, shelf);
  else if (self->refresh_id != 0) /* it may be new on this shelf */
    refresh (self);
  cup = app_boards_find (self->boards, desk_subject_id (animal));
  if (cup == NULL)
    return FALSE;
  gtk_widget_grab_focus (GTK_WIDGET (cup));
  app_boards_show_focus (self->boards); /* also where it had the focus and was scrolled away */
  if (!app_round_bar_is_on (self->round_bar))
    app_boards_choose (self->boards, cup);
  return TRUE;
}

gboolean
app_shelves_page_let_go (AppShelvesPage *self)
{
  AppCup *cup;

  g_return_val_if_fail (APP_IS_SHELVES_PAGE (self), FALSE);
  cup = app_boards_chosen (self->boards);
  if (cup == NULL)
    return FALSE;
  app_boards_choose (self->boards, NULL);
  gtk_widget_grab_focus (GTK_WIDGET (cup)); /* the arrows go on from where one was */
  return TRUE;
}

void
app_shelves_page_focus_line (AppShelvesPage *self)
{
  g_return_if_fail (APP_IS_SHELVES_PAGE (self));
  app_round_line_focus (self->round_line);
}

void
app_shelves_page_mark_cups (AppShelvesPage *self)
{
  g_return_if_fail (APP_IS_SHELVES_PAGE (self));
  app_round_line_set_marking (self->round_line, !app_round_line_get_marking (self->round_line));
}

gboolean
app_shelves_page_swap_day (AppShelvesPage *self)
{
  g_return_val_if_fail (APP_IS_SHELVES_PAGE (self), FALSE);
  return app_round_line_swap_day (self->round_line);
}

void
app_shelves_page_set_past (AppShelvesPage *self, CoreDay day, const char *seen_by)
{
  g_return_if_fail (APP_IS_SHELVES_PAGE (self));
  app_round_line_set_past (self->round_line, day, seen_by);
}

gboolean
app_shelves_page_key (AppShelvesPage *self, guint keyval)
{
  GtkWidget *cup;

  g_return_val_if_fail (APP_IS_SHELVES_PAGE (self), FALSE);
  cup = gtk_widget_get_focus_child (GTK_WIDGET (self->boards));
  if (app_round_bar_is_on (self->round_bar))
    return cup != NULL && app_round_bar_key (self->round_bar, APP_CUP (cup), keyval, 0);
  return app_boards_chosen (self->boards) != NULL && app_story_key (self->story, keyval);
}
