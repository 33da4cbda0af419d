/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-cautions.c — the quiet line of what can hurt stands where the matter comes up, and goes when the
 * keeper switches it off; the switch stands in the journal. */
#include "app-fixture.h"

#include <string.h>

#include "app/app-animal-page.h"
#include "app/app-boards.h"
#include "app/app-cautions-page.h"
#include "app/app-dialogs.h"
#include "app/app-quick.h"
#include "app/app-round-line.h"
#include "app/app-story.h"

static const char *
line_of (WordsCaution caution)
{
  return words_caution_line (WORDS_LOCAL, caution);
}

/* Is that line on the screen under `root`? */
static gboolean
stands (gpointer root, WordsCaution caution)
{
  GtkWidget *label = app_find_words (root, line_of (caution));

  return label != NULL && gtk_widget_get_visible (label);
}

static GtkWidget *
switch_of (GtkWidget *page, WordsCaution caution)
{
  WordsParagraph words = words_caution (WORDS_LOCAL, caution);
  GtkWidget *title = app_find_words (page, words.title);

  while (title != NULL && !g_str_equal (gtk_label_get_label (GTK_LABEL (title)), words.title))
    title = gtk_widget_get_next_sibling (title);
  return title != NULL ? gtk_widget_get_next_sibling (title) : NULL;
}

static void
set_switch (Room *room, WordsCaution caution, gboolean on)
{
  GtkWidget *page = app_find (room->window, APP_TYPE_CAUTIONS_PAGE);
  GtkWidget *knob = switch_of (page, caution);

  g_assert_true (GTK_IS_SWITCH (knob));
  g_assert_cmpint (gtk_switch_get_active (GTK_SWITCH (knob)), !=, on);
  gtk_switch_set_active (GTK_SWITCH (knob), on);
  APP_WAIT (desk_caution_on (room->journal.desk, caution) == on);
  g_assert_cmpint (gtk_switch_get_active (GTK_SWITCH (knob)), ==, on);
}

/* ---- the prey of one cup ---- */

static GtkDropDown *
prey_list (AppQuick *quick)
{
  return GTK_DROP_DOWN (app_find (quick, GTK_TYPE_DROP_DOWN));
}

typedef struct
{
  int prey; /* -1: not said */
  int caution;
} PreyCase;

static const PreyCase preys[] = {
  { CORE_PREY_ROACH, WORDS_CAUTION_ALLERGY },  { CORE_PREY_LOCUST, WORDS_CAUTION_ALLERGY },
  { CORE_PREY_MOTH, WORDS_CAUTION_ALLERGY },   { CORE_PREY_HYDEI, WORDS_CAUTION_ALLERGY },
  { CORE_PREY_CRICKET, WORDS_CAUTION_CRICKETS }, { CORE_PREY_HOUSE_FLY, -1 },
  { CORE_PREY_BLUE_BOTTLE, -1 },               { -1, -1 },
};

static void
test_quick (Room *room, gconstpointer data)
{
  GtkWidget *quick;

  app_window_show_animal (room->window, desk_subject_id (room->cups[0]));
  quick = app_find (app_find (room->window, APP_TYPE_ANIMAL_PAGE), APP_TYPE_QUICK);
  for (guint i = 0; i < G_N_ELEMENTS (preys); i++)
    {
      gtk_drop_down_set_selected (prey_list (APP_QUICK (quick)), (guint) (preys[i].prey + 1));
      g_assert_cmpint (stands (quick, WORDS_CAUTION_ALLERGY), ==, preys[i].caution == WORDS_CAUTION_ALLERGY);
      g_assert_cmpint (stands (quick, WORDS_CAUTION_CRICKETS), ==, preys[i].caution == WORDS_CAUTION_CRICKETS);
    }
  g_assert_null (app_form_on_top ()); /* a line, never a dialog */
}

static void
test_quick_switched_off (Room *room, gconstpointer data)
{
  GtkWidget *quick;

  app_window_show_animal (room->window, desk_subject_id (room->cups[0]));
  quick = app_find (app_find (room->window, APP_TYPE_ANIMAL_PAGE), APP_TYPE_QUICK);
  gtk_drop_down_set_selected (prey_list (APP_QUICK (quick)), CORE_PREY_ROACH + 1);
  g_assert_true (stands (quick, WORDS_CAUTION_ALLERGY));
  set_switch (room, WORDS_CAUTION_ALLERGY, FALSE);
  APP_WAIT (!stands (quick, WORDS_CAUTION_ALLERGY));
  gtk_drop_down_set_selected (prey_list (APP_QUICK (quick)), CORE_PREY_CRICKET + 1);
  g_assert_true (stands (quick, WORDS_CAUTION_CRICKETS)); /* the others stay */
  set_switch (room, WORDS_CAUTION_ALLERGY, TRUE);
  gtk_drop_down_set_selected (prey_list (APP_QUICK (quick)), CORE_PREY_LOCUST + 1);
  g_assert_true (stands (quick, WORDS_CAUTION_ALLERGY));
}

/* ---- the round line ---- */

static void
type (GtkWidget *line, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (app_find (line, GTK_TYPE_ENTRY)), text);
  app_settle ();
}

static void
test_line (Room *room, gconstpointer data)
{
  static const struct
  {
    const char *line;
    gboolean allergy, crickets;
  } lines[] = {
    { "70 fed 1 roach", TRUE, FALSE },
    { "70 ate 2 crickets", FALSE, TRUE },
    { "all misted; 70 refused 1 locust", TRUE, FALSE },
    { "70 fed 2 house flies", FALSE, FALSE },
    { "all misted", FALSE, FALSE },
    { "70 fed 1 roach; 99 refused", FALSE, FALSE }, /* nothing will be written */
    { "", FALSE, FALSE },
  };
  GtkWidget *line = app_find (room->window, APP_TYPE_ROUND_LINE);

  app_window_show_shelf (room->window, desk_subject_id (room->shelf_b));
  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      type (line, lines[i].line);
      g_assert_cmpint (stands (line, WORDS_CAUTION_ALLERGY), ==, lines[i].allergy);
      g_assert_cmpint (stands (line, WORDS_CAUTION_CRICKETS), ==, lines[i].crickets);
    }
  set_switch (room, WORDS_CAUTION_CRICKETS, FALSE);
  type (line, "70 ate 2 crickets");
  g_assert_false (stands (line, WORDS_CAUTION_CRICKETS));
}

/* ---- the page of all cautions ---- */

static void
test_page (Room *room, gconstpointer data)
{
  GtkWidget *page = app_find (room->window, APP_TYPE_CAUTIONS_PAGE);
  GtkWidget *knob = switch_of (page, WORDS_CAUTION_HEAT);

  for (int i = 0; i < WORDS_N_CAUTIONS; i++) /* all can be read, also of those switched off */
    g_assert_nonnull (app_find_words (page, words_caution (WORDS_LOCAL, (WordsCaution) i).body));
  g_assert_true (gtk_widget_get_visible (knob));
  g_assert_null (switch_of (page, WORDS_CAUTION_CHILDREN)); /* no line, no switch */
  gtk_test_accessible_assert_property (knob, GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Heat: show its line where the matter comes up");
  app_window_show_page (room->window, "cautions");
  g_assert_true (GTK_IS_SCROLLED_WINDOW (gtk_root_get_focus (GTK_ROOT (room->window)))); /* Space switches nothing */
  set_switch (room, WORDS_CAUTION_HEAT, FALSE);
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Saved."));
  app_dialog_edit_place (room->window, desk_subject_id (room->shelf_a));
  g_assert_null (app_find_words (app_form_on_top (), line_of (WORDS_CAUTION_HEAT)));
  g_assert_nonnull (app_find_words (app_form_on_top (), line_of (WORDS_CAUTION_ELECTRICITY)));
  gtk_window_close (app_form_on_top ());
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.undo", NULL);
  APP_WAIT (desk_caution_on (room->journal.desk, WORDS_CAUTION_HEAT));
  APP_WAIT (gtk_switch_get_active (GTK_SWITCH (knob))); /* undo moves the switch too */
}

/* Without a journal there is nothing to switch. */
static void
test_page_without_journal (void)
{
  g_autoptr (GTypeClass) desk_class = g_type_class_ref (DESK_TYPE_DESK);
  GtkWidget *page = g_object_ref_sink (app_cautions_page_new ());

  g_assert_false (gtk_widget_get_visible (switch_of (page, WORDS_CAUTION_HEAT)));
  g_assert_nonnull (app_find_words (page, words_caution (WORDS_LOCAL, WORDS_CAUTION_HEAT).body));
  g_object_run_dispose (G_OBJECT (page));
  g_assert_finalize_object (page);
}

int
main (int argc, char **argv)
{
  if (!app_test_init (&argc, &argv))
    return 0;
  ROOM ("/caution/quick", test_quick);
  ROOM ("/caution/quick-switched-off", test_quick_switched_off);
  ROOM ("/caution/line", test_line);
  ROOM ("/caution/page", test_page);
  g_test_add_func ("/caution/page-without-journal", test_page_without_journal);
  return g_test_run ();
}
