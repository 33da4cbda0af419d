/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-check.c — see words-check.h. Whether a check is open is the plan's to say; why there is none is
 * said here by what the rule goes by. */
#include "words/words-check.h"

#include <string.h>

#include "words/words-private.h"

static gboolean
setting_is (const CoreState *state, const char *key, const char *value)
{
  const char *now = core_state_setting (state, key);

  return now != NULL && strcmp (now, value) == 0;
}

static gboolean
is_settled (const CoreState *state, const CoreSexVerdict *verdict)
{
  gboolean firm = verdict->verdict == CORE_VERDICT_FIRM_MALE || verdict->verdict == CORE_VERDICT_FIRM_FEMALE;
  gboolean purpose = setting_is (state, "purpose", "pairing") || setting_is (state, "purpose", "sale");

  return firm || (verdict->verdict != CORE_VERDICT_UNDECIDED && !purpose);
}

/* Open, or held back; NULL = it is neither. */
static const char *
open_text (const WordsView *view, const CorePlan *plan)
{
  for (size_t i = 0; i < plan->held.n; i++)
    if (plan->held.v[i].kind == CORE_TASK_SEX_CHECK)
      return T_ (view->lang, "sex check", "The sex check waits: leave it alone now.");
  for (size_t i = 0; i < plan->tasks.n; i++)
    if (plan->tasks.v[i].kind == CORE_TASK_SEX_CHECK)
      return T_ (view->lang, "sex check", "The sex check stays open: it wants a readable underside of this stage.");
  return NULL;
}

static char *
again_text (const WordsView *view, const CoreState *state, const CoreProfile *profile, const CoreForecast *forecast)
{
  g_autofree char *when = NULL;

  if (state->moults >= 0 && !state->adult && state->moults < profile->readable_from)
    {
      g_autofree char *stage = words_stage_number (profile->readable_from, view->scheme);

      /* Translators: a stage, such as L4 */
      return g_strdup_printf (T_ (view->lang, "sex check", "The sex check comes once it can be read, from %s on."), stage);
    }
  if (state->adult)
    return g_strdup (T_ (view->lang, "sex check", "The sex check is done: after the last moult none comes."));
  if (forecast == NULL || !words_forecast_has_days (forecast))
    return g_strdup (T_ (view->lang, "sex check", "The sex check comes again after the next moult."));
  when = words_forecast_range (view, forecast);
  /* Translators: "3–9 December" */
  return g_strdup_printf (T_ (view->lang, "sex check", "The sex check comes again after the next moult, about %s."), when);
}

char *
words_sex_check_now (const WordsView *view,
                     const CoreState *state,
                     const CoreProfile *profile,
                     const CoreSexVerdict *verdict,
                     const CoreForecast *forecast,
                     const CorePlan *plan)
{
  const char *open = open_text (view, plan);

  if (state->kind != CORE_SUBJECT_ANIMAL || state->end != CORE_END_NONE)
    return NULL;
  if (open != NULL)
    return g_strdup (open);
  if (setting_is (state, "sex_check", "not_needed"))
    return g_strdup (T_ (view->lang, "sex check", "No sex check is asked for, as you have set it."));
  if (is_settled (state, verdict))
    return g_strdup (T_ (view->lang, "sex check", "The sex check is closed."));
  return again_text (view, state, profile, forecast);
}
