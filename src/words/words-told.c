/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-told.c — what others said of an animal when it came, in their words and their scheme, and
 * whom it comes from. Nobody here has seen any of it.
 */
#include <string.h>

#include "words/words-private.h"
#include "words/words-told.h"

static void
add (GPtrArray *parts, char *text)
{
  if (text != NULL && *text != '\0')
    g_ptr_array_add (parts, text);
  else
    g_free (text);
}

static char *
joined (GPtrArray *parts, WordsLang lang)
{
  g_ptr_array_add (parts, NULL);
  return g_strjoinv (T_ (lang, "told list", ", "), (GStrv) parts->pdata);
}

static char *
stage_told (const WordsView *view, const CoreState *state)
{
  const char *stage = state->claim_stage;
  g_autofree char *scheme = NULL;

  if (strpbrk (stage, "0123456789") == NULL) /* "adult" is the same by every count */
    return g_strdup (stage);
  if (state->claim_scheme != 1 && state->claim_scheme != 2)
    /* Translators: a stage as the giver said it: "L4" */
    return g_strdup_printf (T_ (view->lang, "told", "%s, scheme not known"), stage);
  scheme = words_scheme (view->lang, state->claim_scheme);
  /* Translators: a stage and its count as the giver said them: "L4 (hatchling = L1)" */
  return g_strdup_printf (T_ (view->lang, "told", "%s (%s)"), stage, scheme);
}

/* The last that was told. */
static CoreSex
sex_told (const CoreState *state)
{
  CoreSex sex = CORE_SEX_UNKNOWN;

  for (size_t i = 0; i < state->sex.n; i++)
    if (state->sex.v[i].from == CORE_KIND_SEXED && state->sex.v[i].method == CORE_METHOD_CLAIM &&
        !state->sex.v[i].of_other)
      sex = state->sex.v[i].sex;
  return sex;
}

WordsTold
words_told (const WordsView *view, const CoreState *state, const char *from)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);
  const char *generation = core_state_setting (state, "generation");
  gboolean named = from != NULL && *from != '\0';
  CoreSex sex = sex_told (state);
  WordsTold told = { NULL };

  add (parts, stage_told (view, state));
  if (sex != CORE_SEX_UNKNOWN)
    add (parts, g_strdup (words_sex_plain (view->lang, sex)));
  if (generation != NULL)
    /* Translators: as a breeder calls it: "F2", "CB" */
    add (parts, g_strdup_printf (T_ (view->lang, "told", "generation %s"), generation));
  if (parts->len == 0 && !named)
    return told;
  if (parts->len == 0)
    {
      told.head = g_strdup (T_ (view->lang, "told", "Came from:"));
      told.text = g_strdup (from);
      return told;
    }
  /* Translators: who gave the animal away, and after it what was said of it */
  told.head = named ? g_strdup_printf (T_ (view->lang, "told", "Told by %s:"), from)
                    : g_strdup (T_ (view->lang, "told", "As told:"));
  told.text = joined (parts, view->lang);
  return told;
}

WordsTold
words_kin (const WordsView *view, const WordsKin *kin)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);
  WordsTold told = { NULL };

  if (kin->mother != NULL)
    add (parts, g_strdup_printf (T_ (view->lang, "kin", "mother %s"), kin->mother));
  if (kin->father != NULL)
    add (parts, g_strdup_printf (T_ (view->lang, "kin", "father %s"), kin->father));
  if (kin->eggcase != NULL)
    add (parts, g_strdup_printf (T_ (view->lang, "kin", "egg case %s"), kin->eggcase));
  if (kin->lot != NULL)
    add (parts, g_strdup_printf (T_ (view->lang, "kin", "out of lot %s"), kin->lot));
  if (kin->line != NULL)
    add (parts, g_strdup_printf (T_ (view->lang, "kin", "line %s"), kin->line));
  if (parts->len == 0)
    return told;
  told.head = g_strdup (T_ (view->lang, "kin", "Descent:"));
  told.text = joined (parts, view->lang);
  return told;
}

WordsTold
words_name_told (const WordsView *view, const CoreState *state)
{
  const char *sure = core_state_setting (state, "species_sure");
  WordsTold told = { NULL };

  if (sure == NULL || strcmp (sure, "sure") == 0)
    return told;
  told.head = g_strdup (T_ (view->lang, "told", "Species name:"));
  told.text = words_setting_value (view, "species_sure", sure);
  return told;
}

void
words_told_clear (WordsTold *told)
{
  g_clear_pointer (&told->head, g_free);
  g_clear_pointer (&told->text, g_free);
}
