/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-what-if.c — what would change, beside what is. */
#include <math.h>

#include "cli/cli.h"
#include "desk/desk-what-if.h"

/* FALSE: said so. */
static gboolean
read_ask (Cli *cli, DeskWhatIf *ask, CliExit *code)
{
  const char *on = cli_option (cli, "on"), *feed = cli_option (cli, "feed");
  g_autoptr (DeskSubject) place = NULL;
  GError *error = NULL;

  *ask = desk_what_if_nothing ();
  if (!cli_option_number (cli, "day-c", &ask->day_c) || !cli_option_number (cli, "night-c", &ask->night_c))
    *code = CLI_USAGE;
  else if (feed != NULL && !core_interval_parse (feed, &ask->feed_a, &ask->feed_b))
    *code = cli_usage_error (cli, "“%s” is no number of days: 5 or 3-5.", feed);
  else if (on != NULL && (place = desk_find (cli->desk, on, &error)) == NULL)
    *code = cli_fail (error);
  if (place != NULL)
    ask->place = desk_subject_id (place);
  return *code == CLI_OK;
}

static void
put_days (Cli *cli, const CoreForecast *forecast)
{
  static const char *const levels[CORE_N_Q] = { "p05", "p10", "p25", "p50", "p75", "p90", "p95" };
  gboolean days = forecast->why == CORE_NO_FORECAST_NONE;

  cli_out_day (&cli->out, "p10", days ? forecast->p10 : CORE_DAY_NONE);
  cli_out_day (&cli->out, "p50", days ? forecast->p50 : CORE_DAY_NONE);
  cli_out_day (&cli->out, "p90", days ? forecast->p90 : CORE_DAY_NONE);
  if (!days)
    {
      cli_out_null (&cli->out, "days");
      return;
    }
  cli_out_open (&cli->out, "days");
  for (int i = 0; i < CORE_N_Q; i++)
    cli_out_num (&cli->out, levels[i], forecast->days[i], 3);
  cli_out_close (&cli->out);
}

static void
put (Cli *cli, const char *name, const DeskWhatIfAnswer *answer)
{
  cli_out_open (&cli->out, name);
  if (answer->is_lot)
    cli_put_lot_when (cli, &answer->lot);
  else
    put_days (cli, &answer->forecast);
  cli_out_bool (&cli->out, "none_expected",
                answer->is_lot ? answer->lot.still.why != CORE_STILL_NOT
                               : words_forecast_none_expected (&answer->forecast));
  cli_out_day (&cli->out, "next_meal", answer->next_meal);
  cli_out_day (&cli->out, "meal_after", answer->meal_after);
  cli_out_num (&cli->out, "typical_c", answer->typical_c, 2);
  cli_out_close (&cli->out);
}

CliExit
cli_what_if (Cli *cli)
{
  WordsView view = { cli_lang (cli), desk_today (cli->desk), desk_scheme (cli->desk) };
  CliExit code = CLI_OK;
  g_autoptr (DeskSubject) subject = cli_subject (cli, 0, &code);
  DeskWhatIf nothing = desk_what_if_nothing (), ask;
  DeskWhatIfAnswer now, then;
  g_autofree char *moult = NULL;
  g_autofree char *meal = NULL;
  g_autofree char *caution = NULL;
  g_autofree char *unknown = NULL;
  GError *error = NULL;

  if (subject == NULL || !read_ask (cli, &ask, &code))
    return code;
  if (!desk_what_if (cli->desk, subject, &nothing, &now, &error) ||
      !desk_what_if (cli->desk, subject, &ask, &then, &error))
    return cli_fail (error);
  moult = now.is_lot ? words_what_if_lot (&view, &now.lot, &then.lot, then.unknown)
                     : words_what_if_moult (&view, &now.forecast, &then.forecast, then.unknown);
  meal = words_what_if_meal (&view, now.next_meal, now.meal_after, then.next_meal, then.meal_after);
  caution = words_past (&view, &then.past);
  unknown = words_what_if_unknown (&view, then.unknown);
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "subject", desk_subject_label (subject));
  put (cli, "now", &now);
  put (cli, "then", &then);
  cli_out_str (&cli->out, "text", moult);
  cli_out_str (&cli->out, "meals", meal);
  cli_out_str (&cli->out, "caution", caution);
  cli_out_str (&cli->out, "unknown", unknown);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}
