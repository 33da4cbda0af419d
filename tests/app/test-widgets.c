/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-widgets.c — every widget of the window is made, shown, drawn light and dark, and gone when
 * it is let go; what it says to assistive technology. */
#include "app-fixture.h"

#include <math.h>
#include <string.h>

#include "app/app-animal-page.h"
#include "app/app-animal-plots.h"
#include "app/app-boards.h"
#include "app/app-calendar-page.h"
#include "app/app-cautions-page.h"
#include "app/app-climate-chart.h"
#include "app/app-climate-page.h"
#include "app/app-columns.h"
#include "app/app-cup.h"
#include "app/app-drop-down.h"
#include "app/app-frames.h"
#include "app/app-help.h"
#include "app/app-move-in-page.h"
#include "app/app-past-page.h"
#include "app/app-profiles-page.h"
#include "app/app-quick.h"
#include "app/app-plot.h"
#include "app/app-range-chart.h"
#include "app/app-round-line.h"
#include "app/app-search-page.h"
#include "app/app-shelves-page.h"
#include "app/app-story.h"
#include "app/app-symbol.h"
#include "app/app-thumb.h"
#include "app/app-what-if.h"
#include "app/app-timeline.h"
#include "app/app-view.h"
#include "app/app-welcome-page.h"
#include "app/app-widgets.h"

static GtkWidget *
shown (GtkWidget *widget)
{
  GtkWidget *window = gtk_window_new ();

  gtk_window_set_default_size (GTK_WINDOW (window), 900, 600);
  gtk_window_set_child (GTK_WINDOW (window), widget);
  gtk_window_present (GTK_WINDOW (window));
  gtk_test_widget_wait_for_draw (window);
  return window;
}

/* ---- each is finalised ---- */

static GtkWidget *
line_new (void)
{
  return g_object_new (APP_TYPE_ROUND_LINE, NULL);
}

static GtkWidget *
symbol_new (void)
{
  return app_symbol_new ("feed", 16);
}

static GtkWidget *
columns_new (void)
{
  return app_columns_new (gtk_label_new ("one"), gtk_label_new ("two"), 600, .5);
}

static GtkWidget *
story_new (void)
{
  return g_object_new (APP_TYPE_STORY, NULL);
}

static const struct
{
  const char *name;
  GtkWidget *(*make) (void);
} widgets[] = {
  { "animal-page", app_animal_page_new },
  { "boards", app_boards_new },
  { "calendar-page", app_calendar_page_new },
  { "cautions", app_cautions_page_new },
  { "climate-page", app_climate_page_new },
  { "climate-chart", app_climate_chart_new },
  { "columns", columns_new },
  { "cup", app_cup_new },
  { "emergency", app_help_emergency_page },
  { "move-in-page", app_move_in_page_new },
  { "past-page", app_past_page_new },
  { "profiles-page", app_profiles_page_new },
  { "search-page", app_search_page_new },
  { "quick", app_quick_new },
  { "range-chart", app_range_chart_new },
  { "round-line", line_new },
  { "shelves-page", app_shelves_page_new },
  { "story", story_new },
  { "symbol", symbol_new },
  { "timeline", app_timeline_new },
  { "welcome", app_welcome_page_new },
};

static void
test_finalised (gconstpointer data)
{
  guint i = GPOINTER_TO_UINT (data);
  g_autoptr (GTypeClass) desk_class = g_type_class_ref (DESK_TYPE_DESK);
  GtkWidget *widget = g_object_ref_sink (widgets[i].make ());
  GtkWidget *window;

  g_object_run_dispose (G_OBJECT (widget)); /* never shown */
  g_assert_finalize_object (widget);
  widget = g_object_ref_sink (widgets[i].make ());
  window = shown (widget);
  gtk_window_destroy (GTK_WINDOW (window));
  app_settle ();
  g_assert_finalize_object (widget);
}

/* ---- with a journal ---- */

static void
set_cup (Room *room, GtkWidget *cup, guint i)
{
  app_cup_set_data (APP_CUP (cup), app_cup_data_new (room->journal.desk, room->cups[i]));
}

static void
test_cup (Room *room, gconstpointer data)
{
  GtkWidget *cup = g_object_ref_sink (app_cup_new ());
  GtkWidget *window = shown (cup);
  int width, height;

  set_cup (room, cup, 0);
  gtk_test_accessible_assert_role (cup, GTK_ACCESSIBLE_ROLE_BUTTON);
  gtk_test_accessible_assert_property (cup, GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       app_cup_get_data (APP_CUP (cup))->label);
  g_assert_cmpstr (app_cup_get_data (APP_CUP (cup))->number, ==, "14");
  g_assert_true (g_str_has_prefix (app_cup_get_data (APP_CUP (cup))->label, "14"));
  app_cup_set_chosen (APP_CUP (cup), TRUE);
  gtk_test_accessible_assert_state (cup, GTK_ACCESSIBLE_STATE_PRESSED,
                                    GTK_ACCESSIBLE_TRISTATE_TRUE);
  app_cup_set_chosen (APP_CUP (cup), FALSE);
  gtk_test_accessible_assert_state (cup, GTK_ACCESSIBLE_STATE_PRESSED,
                                    GTK_ACCESSIBLE_TRISTATE_FALSE);
  gtk_widget_measure (cup, GTK_ORIENTATION_HORIZONTAL, -1, &width, NULL, NULL, NULL);
  gtk_widget_measure (cup, GTK_ORIENTATION_VERTICAL, -1, &height, NULL, NULL, NULL);
  g_assert_cmpint (width, ==, APP_CUP_WIDTH);
  g_assert_cmpint (height, ==, APP_CUP_HEIGHT);
  app_cup_set_small (APP_CUP (cup), TRUE);
  gtk_widget_measure (cup, GTK_ORIENTATION_HORIZONTAL, -1, &width, NULL, NULL, NULL);
  g_assert_cmpint (width, ==, APP_CUP_SMALL_WIDTH);
  for (guint i = 0; i < ROOM_CUPS; i++) /* each state is drawn, none warns */
    {
      set_cup (room, cup, i);
      gtk_test_widget_wait_for_draw (window);
    }
  gtk_window_destroy (GTK_WINDOW (window));
  app_settle ();
  g_assert_finalize_object (cup);
}

/* What is written of a meal is what the dots show, old to new. */
static void
test_cup_dots (Room *room, gconstpointer data)
{
  static const struct
  {
    const char *pairs;
    AppMealDot dot;
  } meals[] = {
    { "prey=moth outcome=offered", APP_MEAL_OFFERED },
    { "prey=hydei outcome=refused", APP_MEAL_REFUSED },
    { "prey=hydei outcome=taken", APP_MEAL_TAKEN },
  };
  Desk *desk = room->journal.desk;
  g_autoptr (DeskSubject) now = NULL;
  g_autoptr (AppCupData) cup = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (meals); i++)
    fixture_record (desk, room->cups[0], "fed", meals[i].pairs, (int) i - 3);
  now = fixture_now (desk, room->cups[0]);
  cup = app_cup_data_new (desk, now);
  g_assert_cmpint (cup->n_dots, ==, (int) G_N_ELEMENTS (meals));
  for (guint i = 0; i < G_N_ELEMENTS (meals); i++)
    g_assert_cmpint (cup->dots[i], ==, meals[i].dot);
}

static void
test_cup_veil (Room *room, gconstpointer data)
{
  Desk *desk = room->journal.desk;
  g_autoptr (DeskSubject) now = NULL;
  g_autoptr (AppCupData) before = app_cup_data_new (desk, room->cups[0]);
  g_autoptr (AppCupData) cup = NULL;

  g_assert_null (before->veil_words);
  fixture_record (desk, room->cups[0], "moulted", "outcome=good seen=yes", 0);
  now = fixture_now (desk, room->cups[0]);
  cup = app_cup_data_new (desk, now);
  g_assert_nonnull (cup->veil_words);
  g_assert_cmpstr (cup->label, !=, before->label);
  g_assert_nonnull (strstr (cup->label, "alone"));
}

/* It fell: on card and in the story that comes before "leave alone". */
static void
test_danger (Room *room, gconstpointer data)
{
  Desk *desk = room->journal.desk;
  GtkWidget *story = g_object_ref_sink (g_object_new (APP_TYPE_STORY, NULL));
  GtkWidget *window = shown (story);
  g_autoptr (DeskSubject) now = NULL;
  g_autoptr (AppCupData) cup = NULL;
  graphene_rect_t danger, alone;
  GtkWidget *words;

  app_story_set_subject (APP_STORY (story), desk, room->cups[0]);
  g_assert_null (app_find_button (story, "Emergency words (Ctrl+E)"));
  fixture_record (desk, room->cups[0], "moulted", "outcome=fell seen=yes", 0);
  now = fixture_now (desk, room->cups[0]);
  cup = app_cup_data_new (desk, now);
  g_assert_cmpstr (cup->trouble, ==, "fell: emergency");
  app_story_set_subject (APP_STORY (story), desk, now);
  gtk_test_widget_wait_for_draw (window);
  words = app_find_words (story, "It fell today: see the emergency words now.");
  g_assert_nonnull (words);
  g_assert_cmpuint (app_count_words (story, "see the emergency words now"), ==, 1);
  g_assert_true (gtk_widget_has_css_class (words, "trouble"));
  g_assert_cmpstr (gtk_actionable_get_action_name (GTK_ACTIONABLE (app_find_button (story, "Emergency words (Ctrl+E)"))),
                   ==, "win.emergency");
  g_assert_true (gtk_widget_compute_bounds (words, story, &danger));
  g_assert_true (gtk_widget_compute_bounds (app_find_words (story, "Leave alone"), story, &alone));
  g_assert_cmpfloat (danger.origin.y, <, alone.origin.y);
  gtk_window_destroy (GTK_WINDOW (window));
  g_object_unref (story);
}

/* Keys choose; a pointer that rests where the list opens does not. */
static void
test_drop_down (void)
{
  const char *const names[] = { "please choose", "yes: adult", "no: sub-adult", "no: a nymph", NULL };
  GtkDropDown *choice = g_object_ref_sink (GTK_DROP_DOWN (gtk_drop_down_new_from_strings (names)));
  GtkListView *list;
  GtkWidget *window;

  app_drop_down_mend (choice, TRUE);
  window = shown (GTK_WIDGET (choice));
  list = GTK_LIST_VIEW (app_find (choice, GTK_TYPE_LIST_VIEW));
  g_assert_true (app_key (choice, GDK_KEY_Down, 0));
  g_assert_cmpuint (gtk_drop_down_get_selected (choice), ==, 1);
  g_assert_false (gtk_widget_get_visible (app_find (choice, GTK_TYPE_POPOVER)));
  g_assert_true (app_key (choice, GDK_KEY_n, 0));
  g_assert_cmpuint (gtk_drop_down_get_selected (choice), ==, 2);
  g_assert_true (app_key (choice, GDK_KEY_N, 0));
  g_assert_cmpuint (gtk_drop_down_get_selected (choice), ==, 3);
  g_assert_true (app_key (choice, GDK_KEY_n, 0)); /* round to the first of them */
  g_assert_cmpuint (gtk_drop_down_get_selected (choice), ==, 2);
  g_assert_false (app_key (choice, GDK_KEY_x, 0));
  g_assert_true (app_key (choice, GDK_KEY_Up, 0));
  g_assert_true (app_key (choice, GDK_KEY_Up, 0));
  g_assert_true (app_key (choice, GDK_KEY_Up, 0)); /* at the first it stays */
  g_assert_cmpuint (gtk_drop_down_get_selected (choice), ==, 0);
  gtk_popover_popup (GTK_POPOVER (app_find (choice, GTK_TYPE_POPOVER)));
  app_settle ();
  g_assert_false (gtk_list_view_get_single_click_activate (list));
  g_assert_false (app_key (choice, GDK_KEY_Down, 0)); /* in the list it is GTK's */
  gtk_window_destroy (GTK_WINDOW (window));
  g_object_unref (choice);
}

static void
test_range_chart (Room *room, gconstpointer data)
{
  GtkWidget *chart = g_object_ref_sink (app_range_chart_new ());
  GtkWidget *window = shown (chart);
  WordsView view = { WORDS_LOCAL, room->journal.today, 1 };
  const CoreForecast *forecast = desk_subject_forecast (room->cups[0]);
  g_autofree char *words = words_forecast (&view, forecast);

  app_range_chart_set (APP_RANGE_CHART (chart), room->journal.desk, forecast);
  gtk_test_accessible_assert_role (chart, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_test_accessible_assert_property (chart, GTK_ACCESSIBLE_PROPERTY_LABEL, words);
  g_assert_true (gtk_widget_get_visible (chart));
  gtk_test_widget_wait_for_draw (window);
  /* An adult does not moult again: nothing is drawn that nobody knows. */
  app_range_chart_set (APP_RANGE_CHART (chart), room->journal.desk,
                       desk_subject_forecast (room->cups[5]));
  g_assert_false (gtk_widget_get_visible (chart));
  gtk_window_destroy (GTK_WINDOW (window));
  app_settle ();
  g_assert_finalize_object (chart);
}

/* Late: the widget went while its picture was still being made. */
static void
test_thumb_without_photo (Room *room, gconstpointer data)
{
  CoreId none = { { 9 } };
  GtkWidget *thumb =
    g_object_ref_sink (app_thumb_new (room->journal.desk, none, 96, "a picture of 14"));

  gtk_test_accessible_assert_role (thumb, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_test_accessible_assert_property (thumb, GTK_ACCESSIBLE_PROPERTY_LABEL, "a picture of 14");
  g_assert_nonnull (app_find_words (thumb, "missing"));
  g_object_run_dispose (G_OBJECT (thumb));
  g_assert_finalize_object (thumb);
}

/* ---- columns ---- */

static void
test_columns (void)
{
  GtkWidget *one = gtk_label_new ("one");
  GtkWidget *two = gtk_label_new ("two");
  GtkWidget *columns = g_object_ref_sink (app_columns_new (one, two, 600, .5));
  GtkWidget *window = shown (columns);
  graphene_point_t at;

  gtk_widget_size_allocate (columns, &(GtkAllocation){ 0, 0, 800, 400 }, -1);
  g_assert_true (gtk_widget_compute_point (two, columns, &GRAPHENE_POINT_INIT (0, 0), &at));
  g_assert_cmpfloat (at.x, >, 400);
  g_assert_cmpfloat (at.y, ==, 0);
  gtk_widget_size_allocate (columns, &(GtkAllocation){ 0, 0, 500, 400 }, -1);
  g_assert_true (gtk_widget_compute_point (two, columns, &GRAPHENE_POINT_INIT (0, 0), &at));
  g_assert_cmpfloat (at.x, ==, 0);
  g_assert_cmpfloat (at.y, >, 0);
  gtk_window_destroy (GTK_WINDOW (window));
  app_settle ();
  g_assert_finalize_object (columns);
}

static graphene_point_t
place_in (GtkWidget *columns, GtkWidget *part)
{
  graphene_point_t at;

  g_assert_true (gtk_widget_compute_point (part, columns, &GRAPHENE_POINT_INIT (0, 0), &at));
  return at;
}

/* What is read last stands under the first part; in one column it comes after both. */
static void
test_columns_of_three (void)
{
  GtkWidget *one = gtk_label_new ("one");
  GtkWidget *two = gtk_label_new ("two\ntwo\ntwo\ntwo");
  GtkWidget *last = gtk_label_new ("last");
  GtkWidget *columns = g_object_ref_sink (app_columns_new (one, two, 600, .5));
  GtkWidget *window = shown (columns);

  gtk_widget_set_parent (last, columns);
  gtk_widget_size_allocate (columns, &(GtkAllocation){ 0, 0, 800, 400 }, -1);
  g_assert_cmpfloat (place_in (columns, two).x, >, 400);
  g_assert_cmpfloat (place_in (columns, two).y, ==, 0);
  g_assert_cmpfloat (place_in (columns, last).x, ==, 0);
  g_assert_cmpfloat (place_in (columns, last).y, >=, gtk_widget_get_height (one));
  g_assert_cmpfloat (place_in (columns, last).y, <, gtk_widget_get_height (two));
  gtk_widget_size_allocate (columns, &(GtkAllocation){ 0, 0, 500, 400 }, -1);
  g_assert_cmpfloat (place_in (columns, two).y, >=, gtk_widget_get_height (one));
  g_assert_cmpfloat (place_in (columns, last).y, >=,
                     place_in (columns, two).y + gtk_widget_get_height (two));
  g_assert_cmpfloat (place_in (columns, last).y + gtk_widget_get_height (last), ==, 400);
  gtk_window_destroy (GTK_WINDOW (window));
  app_settle ();
  g_assert_finalize_object (columns);
}

/* ---- colours ---- */

static void
count_problem_cb (GtkCssProvider *provider, GtkCssSection *section, GError *error, guint *n)
{
  g_test_message ("%s", error->message);
  (*n)++;
}

/* The dark sheet only means something over the light one: colours are named there. */
static void
test_sheets_parse (void)
{
  static const char *const sheets[] = { "style.css", "style-dark.css" };
  guint n = 0;

  for (guint i = 0; i < G_N_ELEMENTS (sheets); i++)
    {
      g_autofree char *path = g_strconcat ("/io/github/mantidary/", sheets[i], NULL);
      g_autoptr (GtkCssProvider) provider = gtk_css_provider_new ();

      g_signal_connect (provider, "parsing-error", G_CALLBACK (count_problem_cb), &n);
      gtk_css_provider_load_from_resource (provider, path);
    }
  g_assert_cmpuint (n, ==, 0);
}

/* Relative luminance and contrast as WCAG 2.1 defines them. */
static double
linear (double v)
{
  return v <= .03928 ? v / 12.92 : pow ((v + .055) / 1.055, 2.4);
}

static double
luminance (const GdkRGBA *color)
{
  return .2126 * linear (color->red) + .7152 * linear (color->green) + .0722 * linear (color->blue);
}

static double
contrast (const GdkRGBA *a, const GdkRGBA *b)
{
  double la = luminance (a), lb = luminance (b);

  return (MAX (la, lb) + .05) / (MIN (la, lb) + .05);
}

static void
assert_readable (GtkStyleContext *style)
{
  static const char *const words[] = { "ink",     "dim_ink",     "leaf",
                                       "due_ink", "trouble_ink", "veil_ink" };
  GdkRGBA page, color;

  g_assert_true (gtk_style_context_lookup_color (style, "page", &page));
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    {
      g_assert_true (gtk_style_context_lookup_color (style, words[i], &color));
      if (contrast (&color, &page) < 4.5)
        {
          g_test_message ("%s on page: %.2f", words[i], contrast (&color, &page));
          g_test_fail ();
        }
    }
}

static void
test_light_and_dark (void)
{
  AdwStyleManager *manager = adw_style_manager_get_default ();
  GtkWidget *label = gtk_label_new ("words");
  GtkWidget *window = shown (label);
  GtkStyleContext *style = gtk_widget_get_style_context (label);
  GdkRGBA light, dark;

  adw_style_manager_set_color_scheme (manager, ADW_COLOR_SCHEME_FORCE_LIGHT);
  gtk_test_widget_wait_for_draw (window);
  gtk_style_context_get_color (style, &light);
  assert_readable (style);
  adw_style_manager_set_color_scheme (manager, ADW_COLOR_SCHEME_FORCE_DARK);
  gtk_test_widget_wait_for_draw (window);
  gtk_style_context_get_color (style, &dark);
  assert_readable (style);
  g_assert_cmpfloat (luminance (&dark), >, luminance (&light));
  adw_style_manager_set_color_scheme (manager, ADW_COLOR_SCHEME_DEFAULT);
  gtk_window_destroy (GTK_WINDOW (window));
  app_settle ();
}

/* ---- plots ---- */

static void
test_plot_step (void)
{
  static const double rows[][2] = { { 3, 1 }, { 5.9, 1 }, { 6, 2 }, { 14, 2 }, { 15, 5 }, { 29, 5 }, { 30, 10 }, { 51, 10 }, { .3, .1 } };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      double step = app_plot_step (rows[i][0]);

      g_assert_cmpfloat_with_epsilon (step, rows[i][1], 1e-9);
      g_assert_cmpfloat (rows[i][0] / step, >=, 2.9);
      g_assert_cmpfloat (rows[i][0] / step, <=, 8);
    }
}

static guint
n_of (GtkWidget *at, GType type)
{
  guint n = G_TYPE_CHECK_INSTANCE_TYPE (at, type);

  for (GtkWidget *child = gtk_widget_get_first_child (at); child != NULL; child = gtk_widget_get_next_sibling (child))
    n += n_of (child, type);
  return n;
}

/* What is drawn stands in a table too; what nobody knows is not drawn. */
static void
test_plots (Room *room, gconstpointer data)
{
  GtkWidget *box = g_object_ref_sink (gtk_box_new (GTK_ORIENTATION_VERTICAL, 0));
  g_autoptr (DeskSubject) now = NULL;

  app_animal_plots_fill (GTK_BOX (box), room->journal.desk, room->cups[0]);
  g_assert_cmpuint (n_of (box, APP_TYPE_PLOT), ==, 0);
  fixture_record (room->journal.desk, room->cups[0], "stage", "seen=nymph moults=4", -9);
  fixture_record (room->journal.desk, room->cups[0], "fed", "prey=moth n=2 outcome=refused", -3);
  fixture_record (room->journal.desk, room->cups[0], "moulted", "", -2);
  fixture_record (room->journal.desk, room->cups[0], "measured", "what=body mm=31.5", -1);
  now = fixture_now (room->journal.desk, room->cups[0]);
  app_animal_plots_fill (GTK_BOX (box), room->journal.desk, now);
  g_assert_cmpuint (n_of (box, APP_TYPE_PLOT), ==, 3);
  g_assert_cmpuint (n_of (box, GTK_TYPE_EXPANDER), ==, 3);
  for (GtkWidget *child = gtk_widget_get_first_child (box); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (GTK_IS_EXPANDER (child))
      gtk_expander_set_expanded (GTK_EXPANDER (child), TRUE);
  g_assert_nonnull (app_find_words (box, "2 moths"));
  g_assert_nonnull (app_find_words (box, "refused"));
  g_assert_nonnull (app_find_words (box, "until now"));
  g_assert_nonnull (app_find_words (box, "31.5"));
  g_object_unref (box);
}

static void
collect_fields (GtkWidget *at, GtkEditable *fields[3], guint *n)
{
  if (GTK_IS_ENTRY (at) && *n < 3)
    fields[(*n)++] = GTK_EDITABLE (at);
  for (GtkWidget *child = gtk_widget_get_first_child (at); child != NULL; child = gtk_widget_get_next_sibling (child))
    collect_fields (child, fields, n);
}

/* What is typed is answered at once beside what is; what cannot be asked is said; nothing is written. */
static void
test_what_if (Room *room, gconstpointer data)
{
  AppWhatIf *widget = g_object_new (APP_TYPE_WHAT_IF, NULL);
  GtkWidget *window = shown (GTK_WIDGET (widget));
  GtkWidget *expander = app_find (widget, GTK_TYPE_EXPANDER);
  g_autoptr (DeskSubject) now = NULL;
  GtkEditable *fields[3];
  guint n = 0;
  gsize before;

  fixture_record (room->journal.desk, room->cups[0], "stage", "seen=nymph moults=4", -9);
  fixture_record (room->journal.desk, room->cups[0], "moulted", "", -8);
  before = room_n_entries (room, 0);
  now = fixture_now (room->journal.desk, room->cups[0]);
  app_what_if_set (widget, room->journal.desk, now);
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (widget)));
  gtk_expander_set_expanded (GTK_EXPANDER (expander), TRUE);
  g_assert_nonnull (app_find_words (widget, "Next moult as now"));
  collect_fields (GTK_WIDGET (widget), fields, &n);
  g_assert_cmpuint (n, ==, 3);
  gtk_editable_set_text (fields[0], "18");
  gtk_editable_set_text (fields[1], "15,5");
  g_assert_nonnull (app_find_words (widget, "instead of"));
  gtk_editable_set_text (fields[2], "often");
  g_assert_nonnull (app_find_words (widget, "Temperatures are numbers"));
  gtk_editable_set_text (fields[2], "9");
  g_assert_nonnull (app_find_words (widget, "Next meals: "));
  g_assert_cmpuint (room_n_entries (room, 0), ==, before);
  app_what_if_set (widget, NULL, NULL);
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (widget)));
  gtk_window_destroy (GTK_WINDOW (window));
  app_settle ();
}

/* Every symbol that a task can ask for is in the program. */
static void
test_symbols (void)
{
  for (int kind = 0; kind < CORE_N_TASKS; kind++)
    {
      const char *name = app_task_symbol (kind);
      g_autofree char *path = g_strdup_printf ("/io/github/mantidary/symbols/%s.svg", name);

      g_assert_true (g_resources_get_info (path, 0, NULL, NULL, NULL));
    }
}

/* Pieces of memory that are shared with the display now. */
static guint
shared_with_display (void)
{
  g_autofree char *maps = NULL;
  guint n = 0;

  g_assert_true (g_file_get_contents ("/proc/self/maps", &maps, NULL, NULL));
  for (const char *at = maps; (at = strstr (at, "/SYSV")) != NULL; at++)
    n++;
  return n;
}

/* Between frames the memory for them stays, and is no more after a hundred than after one. */
static void
test_frames (void)
{
  GtkWidget *window = gtk_window_new ();
  guint kept;

  gtk_window_set_default_size (GTK_WINDOW (window), 640, 480);
  gtk_window_present (GTK_WINDOW (window));
  gtk_test_widget_wait_for_draw (window);
  app_frames_keep (window);
  gtk_widget_queue_draw (window);
  gtk_test_widget_wait_for_draw (window);
  kept = shared_with_display ();
  for (int i = 0; i < 5; i++)
    {
      gtk_widget_queue_draw (window);
      gtk_test_widget_wait_for_draw (window);
      app_frames_keep (window); /* once is enough */
      g_assert_cmpuint (shared_with_display (), ==, kept);
    }
#ifdef GDK_WINDOWING_X11
  g_assert_cmpuint (kept, >, 0);
#endif
  gtk_window_destroy (GTK_WINDOW (window));
}

int
main (int argc, char **argv)
{
  if (!app_test_init (&argc, &argv))
    return 0;
  for (guint i = 0; i < G_N_ELEMENTS (widgets); i++)
    {
      g_autofree char *path = g_strdup_printf ("/widget/finalised/%s", widgets[i].name);

      g_test_add_data_func (path, GUINT_TO_POINTER (i), test_finalised);
    }
  ROOM_WITHOUT_WINDOW ("/widget/cup/says-and-measures", test_cup);
  ROOM_WITHOUT_WINDOW ("/widget/cup/dots", test_cup_dots);
  ROOM_WITHOUT_WINDOW ("/widget/cup/veil", test_cup_veil);
  ROOM_WITHOUT_WINDOW ("/widget/danger", test_danger);
  g_test_add_func ("/widget/frames", test_frames);
  g_test_add_func ("/widget/drop-down", test_drop_down);
  ROOM_WITHOUT_WINDOW ("/widget/range-chart", test_range_chart);
  ROOM_WITHOUT_WINDOW ("/widget/thumb/no-photo", test_thumb_without_photo);
  g_test_add_func ("/widget/plot-step", test_plot_step);
  ROOM_WITHOUT_WINDOW ("/widget/plots", test_plots);
  ROOM_WITHOUT_WINDOW ("/widget/asked/what-if", test_what_if);
  g_test_add_func ("/widget/columns", test_columns);
  g_test_add_func ("/widget/columns-of-three", test_columns_of_three);
  g_test_add_func ("/widget/style/sheets-parse", test_sheets_parse);
  g_test_add_func ("/widget/style/light-and-dark", test_light_and_dark);
  g_test_add_func ("/widget/symbols", test_symbols);
  return g_test_run ();
}
