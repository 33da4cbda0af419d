/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-dialogs-seen.c — what is seen of an animal now and then: size, stage, sex, its home, what it is
 * kept for. Nothing is preselected that would be an answer. */
#include "app/app-dialogs.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/app-form.h"

/* The words of a code in the order of the table of kinds, after a row that answers nothing. */
static void
code_row (AppForm *form, CoreKind kind, CoreKey which, const char *label, const char *none)
{
  const CoreKindKey *key = core_kind_key (kind, which);
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  g_autoptr (GPtrArray) values = g_ptr_array_new ();

  g_ptr_array_add (names, (gpointer) none);
  g_ptr_array_add (values, (gpointer) "");
  for (int i = 0; key->words[i] != NULL; i++)
    {
      g_ptr_array_add (names, (gpointer) words_code (WORDS_LOCAL, kind, which, i));
      g_ptr_array_add (values, (gpointer) key->words[i]);
    }
  g_ptr_array_add (names, NULL);
  g_ptr_array_add (values, NULL);
  app_form_choice (form, key->name, label, (const char *const *) names->pdata, (const char *const *) values->pdata, 0);
}

static void
day_row (AppForm *form, AppWindow *window)
{
  app_form_day (form, "day", C_ ("form", "_On"), desk_today (app_window_get_desk (window)));
}

/* FALSE (and the form says `problem`) while a row that is needed is empty. */
static gboolean
is_filled (AppForm *form, const char *key, const char *problem)
{
  g_autofree char *value = g_strstrip (g_strdup (app_form_get (form, key)));

  if (value[0] == '\0')
    app_form_problem_at (form, key, problem);
  return value[0] != '\0';
}

/* ---- size ---- */

static void
measure_submit (AppForm *form)
{
  if (is_filled (form, "what", C_ ("form", "Choose what you measured."))
      && is_filled (form, "mm", C_ ("form", "How long is it? Write the millimetres, such as 34.5.")))
    app_form_record (form, "measured", (const char *const[]){ "what", "mm", NULL });
}

void
app_dialog_measure (AppWindow *window, CoreId id)
{
  AppForm *form
    = app_form_new_about (window, id, C_ ("form title", "%s measured"), C_ ("form", "_Save"), measure_submit);

  code_row (form, CORE_KIND_MEASURED, CORE_KEY_WHAT, C_ ("form", "_What"), C_ ("form", "please choose"));
  app_form_entry (form, "mm", C_ ("form", "_Length, mm"), NULL, NULL);
  day_row (form, window);
  app_form_note (form, C_ ("form", "The body from the front of the head to the tip of the abdomen, without antennae, "
                                   "cerci and wings; the head across the eyes."));
  app_form_show (form, "measured");
}

/* ---- stage ---- */

static void
stage_submit (AppForm *form)
{
  if (is_filled (form, "seen", C_ ("form", "Choose what you see: the wings tell an adult, large pads a sub-adult.")))
    app_form_record (form, "stage", (const char *const[]){ "seen", "moults", NULL });
}

void
app_dialog_stage (AppWindow *window, CoreId id)
{
  AppForm *form
    = app_form_new_about (window, id, C_ ("form title", "%s: what it is now"), C_ ("form", "_Save"), stage_submit);
  const char *const names[] = { C_ ("form", "please choose"), C_ ("form", "adult: the wings are full"),
                                C_ ("form", "sub-adult: large pads, no wings yet"),
                                C_ ("form", "a nymph: small pads or none"), NULL };
  const char *const values[] = { "", "adult", "subadult", "nymph", NULL };

  app_form_choice (form, "seen", C_ ("form", "Are the _wings full?"), names, values, 0);
  app_form_entry (form, "moults", C_ ("form", "_Moults since the hatch"), NULL, C_ ("form", "empty: not counted"));
  day_row (form, window);
  app_form_note (form, C_ ("form", "Kinds with short wings: an adult has no pads and the shape of its kind."));
  app_form_show (form, "stage");
}

/* ---- sex ---- */

static void
sex_submit (AppForm *form)
{
  if (is_filled (form, "sex", C_ ("form", "Choose what you read; “unknown” is an answer."))
      && is_filled (form, "method", C_ ("form", "Choose how you read it: the program weighs each way by itself.")))
    app_form_record (form, "sexed", (const char *const[]){ "sex", "method", "of", NULL });
}

void
app_dialog_sex (AppWindow *window, CoreId id)
{
  AppForm *form = app_form_new_about (window, id, C_ ("form title", "Sex of %s"), C_ ("form", "_Save"), sex_submit);

  code_row (form, CORE_KIND_SEXED, CORE_KEY_SEX, C_ ("form", "Se_x"), C_ ("form", "please choose"));
  code_row (form, CORE_KIND_SEXED, CORE_KEY_METHOD, C_ ("form", "_Read"), C_ ("form", "please choose"));
  code_row (form, CORE_KIND_SEXED, CORE_KEY_OF, C_ ("form", "_Looked at"), C_ ("form", "not said"));
  day_row (form, window);
  app_form_note (form, C_ ("form", "A count on a picture says more: it keeps what can be looked at again."));
  app_form_show (form, "sexed");
}

/* ---- its home ---- */

static const char *const sizes[] = { "height_mm", "width_mm", "depth_mm", NULL };

static void
home_submit (AppForm *form)
{
  for (gsize i = 0; sizes[i] != NULL; i++)
    {
      g_autofree char *pair = app_form_pair (form, sizes[i]);

      if (pair != NULL)
        {
          app_form_record (form, "housed", sizes);
          return;
        }
    }
  app_form_problem_at (form, sizes[0], C_ ("form", "Write at least the inner height, in millimetres."));
}

void
app_dialog_home (AppWindow *window, CoreId id)
{
  g_autoptr (DeskSubject) animal = desk_get (app_window_get_desk (window), id);
  const CoreState *state;
  CoreStay stay = { .height_mm = NAN, .width_mm = NAN, .depth_mm = NAN };
  g_autofree char *height = NULL;
  g_autofree char *width = NULL;
  g_autofree char *depth = NULL;
  AppForm *form;

  if (animal == NULL)
    return;
  state = desk_subject_state (animal);
  if (state->stays.n > 0)
    stay = state->stays.v[state->stays.n - 1];
  height = app_form_number (stay.height_mm, 1);
  width = app_form_number (stay.width_mm, 1);
  depth = app_form_number (stay.depth_mm, 1);
  form = app_form_new_about (window, id, C_ ("form title", "Home of %s"), C_ ("form", "_Save"), home_submit);
  app_form_entry (form, "height_mm", C_ ("form", "Inner _height, mm"), height, NULL);
  app_form_entry (form, "width_mm", C_ ("form", "Inner _width, mm"), width, NULL);
  app_form_entry (form, "depth_mm", C_ ("form", "Inner _depth, mm"), depth, NULL);
  app_form_day (form, "day", C_ ("form", "S_ince"), desk_today (app_window_get_desk (window)));
  app_form_note (form, C_ ("form", "The height from where it hangs to the floor or the first twig. It stays where it "
                                   "stands on the shelf."));
  app_form_caution (form, WORDS_CAUTION_CLEANING);
  app_form_show (form, "housed");
}

/* ---- kept for ---- */

static char *
setting (Desk *desk, CoreId id, const char *key)
{
  g_autoptr (DeskSubject) animal = desk_get (desk, id);
  const CoreState *state = animal != NULL ? desk_subject_state (animal) : NULL;

  for (size_t i = 0; state != NULL && i < state->settings.n; i++)
    if (strcmp (state->settings.v[i].key, key) == 0)
      return g_strdup (state->settings.v[i].value);
  return g_strdup ("none");
}

static void
purpose_submit (AppForm *form)
{
  static const char *const keys[] = { "purpose", "sex_check" };
  Desk *desk = app_window_get_desk (app_form_window (form));
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) core_entry_free);

  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      g_autofree char *before = setting (desk, app_form_id (form), keys[i]);

      if (!g_str_equal (app_form_get (form, keys[i]), before))
        g_ptr_array_add (entries, app_form_set_new (form, keys[i], app_form_get (form, keys[i])));
    }
  app_form_write (form, g_steal_pointer (&entries));
}

static void
setting_row (AppForm *form, Desk *desk, const char *key, const char *label, const char *const *names,
             const char *const *values)
{
  g_autofree char *now = setting (desk, app_form_id (form), key);
  guint selected = 0;

  for (guint i = 0; values[i] != NULL; i++)
    if (g_str_equal (values[i], now))
      selected = i;
  app_form_choice (form, key, label, names, values, selected);
}

void
app_dialog_purpose (AppWindow *window, CoreId id)
{
  Desk *desk = app_window_get_desk (window);
  AppForm *form
    = app_form_new_about (window, id, C_ ("form title", "What %s is kept for"), C_ ("form", "_Save"), purpose_submit);
  const char *const purposes[] = { C_ ("form", "not said"), C_ ("form", "pairing"), C_ ("form", "sale"), NULL };
  const char *const purpose_values[] = { "none", "pairing", "sale", NULL };
  const char *const checks[] = { C_ ("form", "when it can be read"), C_ ("form", "not needed"), NULL };
  const char *const check_values[] = { "none", "not_needed", NULL };

  setting_row (form, desk, "purpose", C_ ("form", "_Kept for"), purposes, purpose_values);
  setting_row (form, desk, "sex_check", C_ ("form", "Se_x check"), checks, check_values);
  app_form_note (form, C_ ("form", "For pairing or sale the sex is read until it is firm."));
  app_form_show (form, "purpose");
}
