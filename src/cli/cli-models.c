/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-models.c — the models alone, for checking: the development clock and the air. */
#include "cli/cli.h"

#include <math.h>

#include "core/core-air.h"
#include "core/core-clock.h"

CliExit
cli_clock (Cli *cli)
{
  const char *species = cli_option (cli, "species");
  double min = NAN, max = NAN, days = 1;
  g_autoptr (DeskProfiles) profiles = NULL;
  const CoreProfile *profile = NULL;
  CoreClock clock;
  GError *error = NULL;

  if (!cli_option_number (cli, "min", &min) || !cli_option_number (cli, "max", &max) ||
      !cli_option_number (cli, "days", &days))
    return CLI_USAGE;
  if (species == NULL || isnan (min) || isnan (max))
    return cli_usage_error (cli, "--species, --min and --max are needed.");
  if (min > max || min < -60 || max > 100 || days < 0 || days > 1e6)
    return cli_refuse ("Expected --min at most --max, both from -60 to 100 °C, and --days from 0 "
                       "to 1000000.");
  profiles = desk_profiles_load (&error);
  if (profiles == NULL)
    return cli_fail (error);
  profile = desk_profiles_find (profiles, species, &error);
  if (profile == NULL)
    return cli_fail (error);
  clock = core_clock_from_profile (profile);
  cli_out_open (&cli->out, NULL);
  cli_out_num (&cli->out, "development_days", core_clock_day_sine (&clock, min, max) * days, 6);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

CliExit
cli_air (Cli *cli)
{
  double t = NAN, rh = NAN, night = NAN, wall = NAN;

  if (!cli_option_number (cli, "t", &t) || !cli_option_number (cli, "rh", &rh) ||
      !cli_option_number (cli, "night", &night) || !cli_option_number (cli, "wall", &wall))
    return CLI_USAGE;
  if (isnan (t) || isnan (rh))
    return cli_usage_error (cli, "--t and --rh are needed.");
  if (t < -45 || t > 60 || night < -45 || night > 60 || wall < -45 || wall > 60)
    return cli_refuse ("The formula holds from -45 to 60 °C. Give temperatures in that range.");
  if (rh < 0 || rh > 100)
    return cli_refuse ("--rh is a relative humidity from 0 to 100 percent.");
  cli_out_open (&cli->out, NULL);
  cli_out_num (&cli->out, "es", core_air_saturation (t), 4);
  cli_out_num (&cli->out, "e", core_air_vapour (t, rh), 4);
  cli_out_num (&cli->out, "vpd", core_air_deficit (t, rh), 4);
  cli_out_num (&cli->out, "dew_point", core_air_dew_point (t, rh), 4);
  cli_out_num (&cli->out, "absolute", core_air_absolute (t, rh), 4);
  cli_out_num (&cli->out, "rh_night", isnan (night) ? NAN : core_air_rh_at (t, rh, night), 4);
  if (isnan (wall))
    cli_out_null (&cli->out, "condenses");
  else
    cli_out_bool (&cli->out, "condenses", core_air_condenses (t, rh, wall));
  cli_out_close (&cli->out);
  return cli_finish (cli);
}
