/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-widths.h — how widely the simulated truth is drawn, and why.
 *
 * None of these was chosen by its effect on the forecast. "±30 %" is how far keepers'
 * reports of one species lie apart; it is read as the range of nine keepers of ten.
 */
#pragma once

/* A species' true medians in a room are those of the profile times a factor, uniform in
 * 1 ± this. */
#define SIM_MEDIAN .30
/* The room's own pace comes on top, with the profile's sd times up to SIM_SPREAD or its inverse.
 * Of its variance this share is common to all species of the room (food, water, the keeper's
 * hand), the rest is of the species in it; the program takes .6. */
#define SIM_ROOM_COMMON .5
/* Each stage of a species bends by itself: a profile's figures are rounded, and mostly
 * judgements; all animals of the room share it. */
#define SIM_SD_BEND .06
/* Spreads of room, lot, animal and stage: the profile's, times up to this or its inverse. */
#define SIM_SPREAD 1.3
/* Chances of numbers of moults: log-sd by which each is wrong; moults beyond those of the
 * profile, as added moults are reported after poor food or a lost limb. */
#define SIM_SD_NUMBER .4
#define SIM_ADDED .03
#define SIM_FEWER .01

/* °C. Thermometers in reach of keepers are good to about one degree; the usual temperature is
 * a guess from memory. Nobody's shelf stands still: a season, a slow swing, hot spells. */
#define SIM_SD_TOLD 1.0
#define SIM_SEASON 2.0  /* amplitude, uniform up to this */
#define SIM_SWING_LO .3 /* sd of the slow swing, uniform between */
#define SIM_SWING_HI 1.2
#define SIM_SPELLS .004 /* chance a day that a spell begins */
#define SIM_SPELL_C 4.0 /* up to so many degrees up or down */
/* The true clock: threshold and optimum of the profile are judgements. */
#define SIM_CLOCK_C 1.5
#define SIM_SD_READING .4 /* of a reading, °C */
#define SIM_NOT_TOLD .15  /* share of shelves without usual temperatures */

/* Keepers. A quarter looks daily; the others between once in five days and nearly daily. */
#define SIM_DAILY .25
#define SIM_LOOK_LO .20
#define SIM_LOOK_HI .95
#define SIM_AWAY .008       /* chance a day that some days without any look begin */
#define SIM_AWAY_DAYS 8     /* most of them; a week's holiday */
#define SIM_OVERLOOK_LO .01 /* a moult that a look does not see */
#define SIM_OVERLOOK_HI .06
#define SIM_MISS_HI .14 /* moults never entered, uniform up to this by room */
#define SIM_DATED_BACK .10
#define SIM_EARLIEST .20
#define SIM_EARLIEST_WRONG .1 /* of these name a day too late */
#define SIM_SUBADULT_LO .55
#define SIM_SUBADULT_HI 1.0

/* Animals. */
#define SIM_KIND_UNKNOWN .15 /* of those bought */
#define SIM_SEXED .3         /* of those from the fourth stage on; right in .88 */
#define SIM_SEXED_RIGHT .88
#define SIM_HAZARD .0008    /* a day: dies, is sold */
#define SIM_NOTES_SIGNS .5  /* as asked: half of the animals without any */
#define SIM_CLAIM_WRONG .15 /* a seller's stage is one off */

/* Signs: leads and truth differ from the defaults of the program by up to this factor. */
#define SIM_SIGN_FACTOR 1.5
