/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-reason-ids.h — every rule id that a reason of the plan can carry.
 *
 * The strings are a contract: add, never change. After each id stands what the
 * fields of its CoreReason mean; fields not named are unset (0, CORE_DAY_NONE).
 * `words` has one sentence for each; a test walks this table.
 */
#pragma once

#include "core/core-types.h"

#define CORE_PLAN_REASONS(X)                                                                      \
  /* Leave alone */                                                                               \
  /* day = first seen, day2 = last seen */                                                        \
  X (HOLD_PUMPING, "hold.pumping")                                                                \
  /* day = first seen, day2 = last seen */                                                        \
  X (HOLD_SPLITTING, "hold.splitting")                                                            \
  /* day = last seen hanging, day2 = first day of the range */                                    \
  X (HOLD_HANGING_IN_RANGE, "hold.hanging_in_range")                                              \
  /* day = last seen hanging; there is no range to compare with */                                \
  X (HOLD_HANGING_RANGE_UNKNOWN, "hold.hanging_range_unknown")                                    \
  /* code = the second sign (CORE_SIGN_*), day = hanging, day2 = second sign last seen */         \
  X (HOLD_HANGING_SECOND_SIGN, "hold.hanging_second_sign")                                        \
  /* SCORE value = belly, day = hanging, day2 = belly scored */                                   \
  X (HOLD_HANGING_ROUND_BELLY, "hold.hanging_round_belly")                                        \
  /* DAYS value = days without touching, day = latest day of the moult, day2 = first free day */  \
  X (HOLD_HARDENING, "hold.hardening")                                                            \
  /* DAYS value = days without food, day = counted from, day2 = first day with food */            \
  X (HOLD_NO_FOOD_AFTER_MOULT, "hold.no_food_after_moult")                                        \
  /* TIMES value = refusals, day = latest refusal, day2 = first day of the range */               \
  X (HOLD_TWO_REFUSALS, "hold.two_refusals")                                                      \
  /* SCORE value = belly, day = scored; why a refusal may hold food */                            \
  X (HOLD_BELLY_ROUND, "hold.belly_round")                                                        \
  /* SCORE value = belly, day = scored, day2 = from then on that score says nothing */            \
  X (HOLD_SCORE_AGAIN, "hold.score_again")                                                        \
  /* DAYS value = longest hold on food for refusals, day = second refusal */                      \
  X (HOLD_LONGEST, "hold.longest")                                                                \
  /* day, day2 = the range of the next moult; code 1: it has most probably moulted, unseen */      \
  X (HOLD_IN_RANGE, "hold.in_range")                                                              \
  /* of a lot: some show a sign (code = CORE_SIGN_*) or moulted (code -1) that day: nothing is     \
   * touched; day */                                                                              \
  X (HOLD_LOT_TODAY, "hold.lot_today")                                                            \
  /* code = CORE_SIGN_*, day = last seen: no moving with moult signs */                           \
  X (HOLD_SIGN, "hold.sign")                                                                      \
  /* what was entered holds food back, not water: it vomited, mites, weak; day, day2 = food from */\
  X (HOLD_VOMIT, "hold.vomit")                                                                    \
  X (HOLD_MITES, "hold.mites")                                                                    \
  X (HOLD_WEAK, "hold.weak")                                                                      \
  /* trouble that nobody has answered yet; code = CORE_TROUBLE_*, -1 = stuck in its old skin; day */\
  X (HOLD_TROUBLE, "hold.trouble")                                                                \
  /* seen pumping or splitting, and no moult entered: it has most likely moulted and is soft;      \
   * DAYS value = no touching, code = CORE_SIGN_*, day = last seen, day2 = free from then */       \
  X (HOLD_AFTER_SIGN, "hold.after_sign")                                                          \
  /* Any task: day = put off until; code 1: it is asked for before that, on day2 */               \
  X (PUT_OFF, "put_off")                                                                          \
  /* A later occurrence: DAYS value = days after the one before it, day = that one */             \
  X (PROJECTED, "plan.projected")                                                                 \
  /* how often is by general figures: code 1 its kind has a name and no profile, 0 it is not known */ \
  X (GENERAL, "plan.general")                                                                     \
  /* Food */                                                                                      \
  /* DAYS value, value2 = every a to b days, day = last offered, code = CoreCareRow */            \
  X (FEED_INTERVAL, "feed.interval")                                                              \
  /* DAYS value, value2 = the keeper's own interval, day = last offered */                        \
  X (FEED_OWN_INTERVAL, "feed.own_interval")                                                      \
  /* no meal was ever entered; day = since */                                                     \
  X (FEED_NEVER, "feed.never")                                                                    \
  /* day = hatched at the latest; the first meal is due the day after */                          \
  X (FEED_HATCHLING, "feed.hatchling")                                                            \
  /* day = last meal known to be taken, code = prey or -1 */                                      \
  X (FEED_LAST_TAKEN, "feed.last_taken")                                                          \
  /* TIMES value = meals since one was known to be eaten, day = the first of them */                \
  X (FEED_NONE_TAKEN, "feed.none_taken")                                                          \
  /* DAYS value = days until the next offer, day = refused, code = prey or -1 */                  \
  X (FEED_REFUSED, "feed.refused")                                                                \
  /* SCORE value = belly 4 or 5, day = scored; next offer one interval later */                   \
  X (FEED_BELLY_FULL, "feed.belly_full")                                                          \
  /* SCORE value = 1, day = scored; feed today; code 1 = offered since, day2 */                   \
  X (FEED_BELLY_EMPTY, "feed.belly_empty")                                                        \
  /* laying or gravid: the row of gravid females, and a round belly may be eggs */                \
  X (FEED_GRAVID, "feed.gravid")                                                                  \
  /* laid an egg case, or was mated: the row of gravid females; day, code 0 = laid, 1 = mated */   \
  X (FEED_LAYING, "feed.laying")                                                                  \
  /* CELSIUS value = how warm it stands, value2 = the end of its band that this is past; DAYS     \
   * in value3 = the interval that it would have; code 1 = warmer, oftener */                     \
  X (FEED_WARMTH, "feed.warmth")                                                                  \
  /* the first prey after such trouble; code = CORE_TROUBLE_*, day */                             \
  X (FEED_AFTER_ILL, "feed.after_ill")                                                            \
  /* winter rest: refusing is normal */                                                           \
  X (FEED_REST_REFUSED, "feed.rest_refused")                                                      \
  /* winter rest: intervals twice as long */                                                      \
  X (FEED_REST, "feed.rest")                                                                      \
  /* a lot of small ones: are flies in view? day = last seen to */                                \
  X (FEED_LOT_IN_VIEW, "feed.lot_in_view")                                                        \
  /* a lot of small ones was seen without food, and none was given since; day */                  \
  X (FEED_NONE_IN_VIEW, "feed.none_in_view")                                                      \
  /* SCORE value = belly 1 or 2, 0 = not known; water now, then one small soft prey, look at the  \
   * belly; day = scored; code 1 = offered since, day2 */                                         \
  X (FEED_THIN_FIRST, "feed.thin_first")                                                          \
  /* day = stuck in its old skin, nothing was entered since: look first */                        \
  X (FEED_AFTER_STUCK, "feed.after_stuck")                                                        \
  /* SCORE value = belly, day = scored, day2 = from then on that score says nothing; code 1 = that is\
   * still to come. Food waited for refusals: the belly first */                                  \
  X (FEED_SCORE_FIRST, "feed.score_first")                                                        \
  /* DAYS value = the longest hold that is over; one small prey, out again after an hour */       \
  X (FEED_AFTER_LONGEST_HOLD, "feed.after_longest_hold")                                          \
  /* day = first day with food after the moult; the first meal small and soft */                  \
  X (FEED_AFTER_MOULT, "feed.after_moult")                                                        \
  /* MM value = body length (median), value2 = largest prey */                                    \
  X (PREY_SIZE, "prey.size")                                                                      \
  /* nobody measured it. MM value = length of a small one of its kind, which prey is chosen by,   \
   * value2 = largest prey, value3 = length of a large one: measure first */                      \
  X (PREY_NOT_MEASURED, "prey.not_measured")                                                      \
  /* the body length is not known: measure first */                                               \
  X (PREY_MEASURE_FIRST, "prey.measure_first")                                                    \
  /* refused twice outside the range: another, smaller prey; code = prey refused or -1, day =     \
   * first day of the range, or no range */                                                       \
  X (PREY_SMALLER_FIRST, "prey.smaller_first")                                                    \
  /* code = the prey of the last three meals */                                                   \
  X (PREY_VARY, "prey.vary")                                                                      \
  /* the species takes flying prey only */                                                        \
  X (PREY_FLYING_ONLY, "prey.flying_only")                                                        \
  /* Taking prey out */                                                                           \
  /* code = prey that bites, day = offered; value 1 = it was refused */                            \
  X (TAKE_OUT_BITES, "take_out.bites")                                                            \
  /* prey of no name, day = offered: out if it bites */                                           \
  X (TAKE_OUT_NOT_NAMED, "take_out.not_named")                                                    \
  /* code = CORE_SIGN_*, day = last seen: at once */                                              \
  X (TAKE_OUT_SIGN, "take_out.sign")                                                              \
  /* only if what the animal hangs on need not be shaken */                                       \
  X (TAKE_OUT_WITHOUT_SHAKING, "take_out.without_shaking")                                        \
  /* Water */                                                                                     \
  /* DAYS value, value2 = every a to b days, day = last misted */                                 \
  X (MIST_INTERVAL, "mist.interval")                                                              \
  /* DAYS value, value2 = the keeper's own interval, day = last misted */                         \
  X (MIST_OWN_INTERVAL, "mist.own_interval")                                                      \
  /* no misting was ever entered */                                                               \
  X (MIST_NEVER, "mist.never")                                                                    \
  /* it drank eagerly; day */                                                                     \
  X (MIST_EAGER, "mist.eager")                                                                    \
  /* PERCENT value = humidity read, value2 = lower end of its band, day */                        \
  X (MIST_DRY, "mist.dry")                                                                        \
  /* CELSIUS value = temperature read, value2 = upper end of its band, day */                     \
  X (MIST_HOT, "mist.hot")                                                                        \
  /* who is ill drinks first: code = CORE_TROUBLE_*, day */                                       \
  X (MIST_ILL, "mist.ill")                                                                        \
  /* humid kinds keep their rhythm through the range; day, day2 = the range */                    \
  X (MIST_KEEP_RHYTHM, "mist.keep_rhythm")                                                        \
  /* kinds that are neither humid nor dry, in the range; day, day2 = the range */                 \
  X (MIST_MAY_MOULT, "mist.may_moult")                                                            \
  /* dry kinds: one light spray when the range opens; day = that day */                           \
  X (MIST_BEFORE_MOULT, "mist.before_moult")                                                      \
  /* only the wall away from it, or nothing */                                                    \
  X (MIST_FAR_WALL, "mist.far_wall")                                                              \
  /* small ones drown in drops: fine fog */                                                       \
  X (MIST_FINE_FOG, "mist.fine_fog")                                                              \
  /* DAYS value, value2 = every a to b days, day = last watered */                                \
  X (WATER_INTERVAL, "water.interval")                                                            \
  /* DAYS value, value2 = the keeper's own interval, day = last watered */                        \
  X (WATER_OWN_INTERVAL, "water.own_interval")                                                    \
  /* no watering was ever entered */                                                              \
  X (WATER_NEVER, "water.never")                                                                  \
  /* Moult */                                                                                     \
  /* day, day2 = the range of the next moult */                                                   \
  X (SHED_IN_RANGE, "shed.in_range")                                                              \
  /* day, day2 = the range, which is over */                                                      \
  X (SHED_PAST_RANGE, "shed.past_range")                                                          \
  /* day = the moult was found; "good, all limbs?"; a measure and a photo are offered inside */   \
  X (AFTER_MOULT_OUTCOME, "after_moult.outcome")                                                  \
  /* Home */                                                                                      \
  /* MM value = height of the home, value2 = height needed */                                     \
  X (HOME_HEIGHT, "home.height")                                                                  \
  /* MM value = median length after the next moult, value2 = 90 % length */                       \
  X (HOME_LENGTH_AFTER, "home.length_after")                                                      \
  /* nothing was measured: measure first */                                                       \
  X (HOME_MEASURE_FIRST, "home.measure_first")                                                    \
  /* day = last day for moving, day2 = first day of the range; code 1 = of what is left of it */  \
  X (HOME_LAST_DAY, "home.last_day")                                                              \
  /* too late for this moult; take twigs out of the drop line only if it is not hanging;          \
   * day = the last day that there was */                                                         \
  X (HOME_TOO_LATE, "home.too_late")                                                              \
  /* MM value = body length, value2 = shortest side of the home: prey is not found */             \
  X (HOME_TOO_LARGE, "home.too_large")                                                            \
  /* Sex */                                                                                       \
  /* MOULTS value = readable from, value2 = moults now (the lower where it is unsure) */          \
  X (SEX_CHECK_READABLE, "sex_check.readable")                                                    \
  /* PROBABILITY value = of the likelier sex, code = CoreSex */                                   \
  X (SEX_CHECK_NOT_SURE, "sex_check.not_sure")                                                    \
  /* code 0 = meant for pairing, 1 = for sale */                                                  \
  X (SEX_CHECK_PURPOSE, "sex_check.purpose")                                                      \
  /* Lots */                                                                                      \
  /* MOULTS value = this kind is parted from then on, value2 = moults now; day = since */         \
  X (SEPARATE_STAGE, "separate.stage")                                                            \
  /* TIMES value = how many were found dead, day */                                               \
  X (SEPARATE_BODY, "separate.body")                                                              \
  /* the same of hatchlings, few of many: value2 = how many are left */                           \
  X (SEPARATE_FEW, "separate.few")                                                                \
  /* TIMES value = how many of them moulted, value2 = of how many (NAN unknown), day: some are a    \
   * moult ahead of the others */                                                                 \
  X (SEPARATE_AHEAD, "separate.ahead")                                                            \
  /* MM value, value2 = largest and smallest body of this stage, day = the later measure */       \
  X (SEPARATE_SIZE, "separate.size")                                                              \
  /* no food was in view; day */                                                                  \
  X (SEPARATE_NO_FOOD, "separate.no_food")                                                        \
  /* Egg cases */                                                                               \
  /* day = laid at the latest, day2 = first day on which it may be moved */                        \
  X (EGG_HARDEN, "egg.harden")                                                                    \
  /* day = laid at the latest */                                                                  \
  X (EGG_MOVE, "egg.move")                                                                        \
  /* the female stays with it; day = laid at the latest */                                        \
  X (EGG_GUARDED, "egg.guarded")                                                                  \
  /* DAYS value, value2 = every a to b days, day = last sprayed */                                \
  X (EGG_MIST, "egg.mist")                                                                        \
  /* day, day2 = range of the hatch; code 1 = counted from the day it came */                     \
  X (EGG_HATCH_RANGE, "egg.hatch_range")                                                          \
  /* day, day2 = the range, which is over; code 1 = counted from the day it came */               \
  X (EGG_PAST_RANGE, "egg.past_range")                                                            \
  /* day = last hatchlings: more may follow */                                                    \
  X (EGG_MORE, "egg.more")                                                                        \
  /* day = last hatchlings: is it over? */                                                        \
  X (EGG_OVER, "egg.over")                                                                        \
  /* day = end of the range, day2 = one and a half times the longest wait */                      \
  X (EGG_DUD, "egg.dud")                                                                          \
  /* TIMES value = hatchlings in no lot, NAN = nobody counted; code 1 = about; day = hatched */   \
  X (EGG_IN_NO_LOT, "egg.in_no_lot")                                                              \
  /* DAYS value = between looks for mould, day = last look */                                     \
  X (EGG_REST, "egg.rest")                                                                        \
  /* DAYS value, value2 = the usual length of its winter rest, which is over; day = it began */   \
  X (EGG_REST_OVER, "egg.rest_over")                                                              \
  /* DAYS value, value2 = eggs of this kind usually rest so long in the cold first; nothing was   \
   * entered of it; day = laid at the latest, or came */                                          \
  X (EGG_WANTS_REST, "egg.wants_rest")                                                            \
  /* where it stands nothing develops: CELSIUS value = by day there, NAN = not said; code 1 =      \
   * eggs of this kind rest in the cold */                                                        \
  X (EGG_STANDS_STILL, "egg.stands_still")                                                        \
  /* Feeder cultures */                                                                           \
  /* DAYS value, value2 = every a to b days, day = started, code = prey */                        \
  X (CULTURE_WEEKLY, "culture.weekly")                                                            \
  /* DAYS value, value2 = usable from, to day of its age, day = started, day2 = last such day,    \
   * code = prey */                                                                               \
  X (CULTURE_BIN, "culture.bin")                                                                  \
  /* trouble of a culture; code = CORE_TROUBLE_*, day */                                          \
  X (CULTURE_SPOILT, "culture.spoilt")                                                            \
  /* TIMES value = how many cultures, value2 = hatchlings to expect, day = first day of the       \
   * hatch, code = prey */                                                                        \
  X (CULTURE_BEFORE_HATCH, "culture.before_hatch")                                                \
  /* Adults */                                                                                    \
  /* DAYS value, value2 = receptive from, to so many days after the adult moult, day = that moult \
   * at the latest, day2 = last such day, code = CoreSex */                                       \
  X (ADULT_RECEPTIVE, "adult.receptive")                                                          \
  /* day = last seen calling */                                                                   \
  X (ADULT_CALLING, "adult.calling")                                                              \
  /* DAYS value = as an adult, value2, value3 = usual length of adult life, day = adult since;    \
   * code 1 = at least since then */                                                              \
  X (ADULT_OLD, "adult.old")                                                                      \
  /* eggs, and no case for long: day = since; code 0 = said to carry them, 1 = mated */           \
  X (ADULT_OVERDUE, "adult.overdue")                                                              \
  /* Heaters */                                                                                   \
  /* DAYS value, value2 = every a to b days, day = last checked */                                \
  X (HEAT_INTERVAL, "heat.interval")                                                              \
  /* never checked; day = the heater was entered */                                               \
  X (HEAT_NEVER, "heat.never")                                                                    \
  /* what to check, and how not to be hurt */                                                     \
  X (HEAT_CAUTION, "heat.caution")                                                                \
  /* Looks */                                                                                     \
  /* DAYS value = every n days, day = last look */                                                \
  X (LOOK_INTERVAL, "look.interval")                                                              \
  /* DAYS value = the keeper's own interval, day = last look */                                   \
  X (LOOK_OWN_INTERVAL, "look.own_interval")                                                      \
  /* it was never looked at; day = since */                                                       \
  X (LOOK_NEVER, "look.never")                                                                    \
  /* MOULTS value = moults: small ones are looked at daily */                                     \
  X (LOOK_SMALL, "look.small")                                                                    \
  /* it is left alone: look through the wall, daily */                                            \
  X (LOOK_HELD, "look.held")                                                                      \
  /* trouble for which food waits: daily; code = CORE_TROUBLE_*, day */                           \
  X (LOOK_ILL, "look.ill")                                                                        \
  /* day, day2 = the range of the next moult */                                                   \
  X (LOOK_IN_RANGE, "look.in_range")                                                              \
  /* DAYS value = days without a look, day = last look */                                         \
  X (LOOK_UNSEEN, "look.unseen")                                                                  \
  /* moulted, still hanging, or thin? code = CORE_SIGN_*, day = last seen */                      \
  X (LOOK_AFTER_HOLD, "look.after_hold")                                                          \
  /* PROBABILITY value = that no moult comes; code = CoreDoubt, day, day2 = its range */          \
  X (LOOK_DOUBT, "look.doubt")                                                                    \
  /* moulted out of a stage seen as sub-adult: are the wings full? day = the moult was found */   \
  X (LOOK_WINGS, "look.wings")                                                                    \
  /* the power was out on its shelf; CELSIUS value = lowest, NAN = not said; day */                \
  X (LOOK_POWER, "look.power")                                                                    \
  /* its winter rest, DAYS value = so long, day = entered */                                      \
  X (LOOK_REST, "look.rest")                                                                      \
  /* so long that its end is asked for */                                                         \
  X (REST_OVER, "climate.rest_over")                                                              \
  /* the belly score is out of date (or was never given): day = scored */                         \
  X (LOOK_BELLY, "look.belly")                                                                    \
  /* The rest */                                                                                  \
  /* DAYS value, value2 = every a to b days, day = last cleaned */                                \
  X (CLEAN_INTERVAL, "clean.interval")                                                            \
  /* DAYS value, value2 = the keeper's own interval, day = last cleaned */                        \
  X (CLEAN_OWN_INTERVAL, "clean.own_interval")                                                    \
  /* no cleaning was ever entered; day = since */                                                 \
  X (CLEAN_NEVER, "clean.never")                                                                  \
  /* all that stand on the shelf are left alone: nothing is shaken today */                       \
  X (CLEAN_ALONE, "clean.alone")                                                                  \
  /* day = it looked dead */                                                                      \
  X (IS_DEAD_ASK_AGAIN, "is_dead.ask_again")                                                      \
  /* looked at since, day, and nothing entered that only a living one does */                     \
  X (IS_DEAD_LOOKED, "is_dead.looked")                                                            \
  /* CELSIUS value = read, value2 = "look at once" above this; day; code 1 = inside a home */     \
  X (CLIMATE_HOT, "climate.hot")                                                                  \
  /* CELSIUS value = read, value2 = "look at once" below this; day; code 1 = inside a home */     \
  X (CLIMATE_COLD, "climate.cold")                                                                \
  /* CELSIUS value = worst reading, value2 = the end of the band that it passed, value3 = hours    \
   * outside, day; code 1 = inside a home, 2 = too cold, 3 = both */                              \
  X (CLIMATE_BAND, "climate.band")                                                                \
  /* by the temperatures entered for its place: CELSIUS value = coldest or hottest, value2 = "look  \
   * at once"; code 1 = its kind may rest in winter */                                            \
  X (STANDS_COLD, "climate.stands_cold")                                                          \
  X (STANDS_HOT, "climate.stands_hot")                                                            \
  /* it vomited; day */                                                                           \
  X (EMERGENCY_VOMIT, "emergency.vomit")                                                          \
  /* it fell; day */                                                                              \
  X (EMERGENCY_FELL, "emergency.fell")                                                            \
  /* it is stuck in its old skin; day */                                                          \
  X (EMERGENCY_STUCK, "emergency.stuck")                                                          \
  /* other trouble that was entered; code = CORE_TROUBLE_*, day */                                \
  X (TROUBLE_OPEN, "trouble.open")                                                                \
  /* how to answer it; day; code 1 = of one stuck in its old skin */                              \
  X (TROUBLE_ANSWER, "trouble.answer")

typedef enum
{
#define X(id, text) CORE_R_##id,
  CORE_PLAN_REASONS (X)
#undef X
    CORE_N_PLAN_REASONS
} CorePlanReason;

/* "feed.interval"; static. */
const char *core_plan_reason_id (CorePlanReason reason);
