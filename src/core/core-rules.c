/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-rules.c — the table of rules: the source of the plan. */
#include "core/core-rule.h"

#define SINGLE CORE_FOR (CORE_SUBJECT_ANIMAL)
#define LIVING (CORE_FOR (CORE_SUBJECT_ANIMAL) | CORE_FOR (CORE_SUBJECT_LOT))
#define EGGCASE CORE_FOR (CORE_SUBJECT_EGGCASE)
#define CULTURE CORE_FOR (CORE_SUBJECT_CULTURE)
#define PLACE CORE_FOR (CORE_SUBJECT_PLACE)

const CoreRule core_rules[] = {
  { CORE_TASK_LOOK, LIVING | EGGCASE, core_rule_emergency },
  { CORE_TASK_IS_DEAD, LIVING, core_rule_is_dead },
  { CORE_TASK_CLIMATE, LIVING, core_rule_stands },
  { CORE_TASK_TAKE_OUT, LIVING, core_rule_take_out },
  { CORE_TASK_LOOK, LIVING, core_rule_look },
  { CORE_TASK_FEED, LIVING, core_rule_feed },
  { CORE_TASK_MIST, LIVING, core_rule_mist },
  { CORE_TASK_WATER, LIVING, core_rule_water },
  { CORE_TASK_SHED, SINGLE, core_rule_shed },
  { CORE_TASK_AFTER_MOULT, SINGLE, core_rule_after_moult },
  { CORE_TASK_HOME, SINGLE, core_rule_home },
  { CORE_TASK_SEX_CHECK, SINGLE, core_rule_sex_check },
  { CORE_TASK_SEPARATE, CORE_FOR (CORE_SUBJECT_LOT), core_rule_separate },
  { CORE_TASK_ADULT, SINGLE, core_rule_adult },
  { CORE_TASK_EGGCASE, EGGCASE, core_rule_eggcase },
  { CORE_TASK_CULTURE, EGGCASE | CULTURE, core_rule_culture },
  { CORE_TASK_CLEAN, PLACE, core_rule_clean },
  { CORE_TASK_CLIMATE, PLACE, core_rule_climate },
  { CORE_TASK_HEAT, PLACE, core_rule_heat },
};

const size_t core_n_rules = sizeof core_rules / sizeof core_rules[0];
