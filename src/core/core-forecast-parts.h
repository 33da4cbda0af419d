/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast-parts.h — what the files core-forecast-*.c share. Private to them.
 *
 * Waits are log-normal in development days, ln D = mu + theta + eps; theta is the
 * animal's own effect on a grid of nodes. A hypothesis is a number of moults N and
 * a sex. Times t are evenings, u(t) is development.
 */
#pragma once

#include "core/core-forecast.h"

#define FC_NODES 61   /* most nodes of the own effect */
#define FC_CELLS 60   /* most cells of one window */
#define FC_EDGES 1400 /* most edges of the stage in progress */
#define FC_HYPS (2 * (CORE_MAX_MOULTS + 1))
#define FC_HIDDEN 2    /* most moults never entered that are followed */
#define FC_HORIZON 400 /* days; after them it is `beyond` */

/* models §3. Ours; *tried* there. */
#define FC_LEAK .03     /* weight of a day that a look speaks against */
#define FC_LEAK_DAYS 3  /* of them, before a look */
#define FC_MISSING .08 /* a wait hides one moult */
#define FC_NOT_NORMAL .03
#define FC_PROBABLY_ADULT .9 /* after a moult out of a stage seen as sub-adult */
#define FC_HABIT_SD .08      /* of development that rests on habits */
/* Of that of days to come where the last ones were read. Ours: what core-drift.c leaves open of the
 * mean of 25 days after daily readings is .9 °C, of 13 above the threshold. */
#define FC_RECENT_SD .07
/* Ours: where no temperature is known it may lie 2 °C either way of the usual; most of that is the
 * same for all stages on one shelf. */
#define FC_UNKNOWN_SD .12
#define FC_SHELF_SD .16

/* Upper tail of the normal law, from a table: cubic between nodes, relative error
 * below 1e-6 up to z = 4, 2e-5 up to 9; past it erfc itself. */
#define FC_TAIL_STEP 32
#define FC_TAIL_MAX 9
typedef struct
{
  double q[FC_TAIL_MAX * FC_TAIL_STEP + 2];
  double slope[FC_TAIL_MAX * FC_TAIL_STEP + 2];
} FcTail;

const FcTail *fc_tail_table (void);
/* Q(|z|); the chance between two z needs no difference of numbers near 1. */
double fc_tail_far (double abs_z);
/* cubic Hermite: value and slope at both ends */
static inline double
fc_tail (const FcTail *self, double abs_z)
{
  double x = abs_z * FC_TAIL_STEP;
  double f, d;
  int i;

  if (!(x < FC_TAIL_MAX * FC_TAIL_STEP))
    return fc_tail_far (abs_z);
  i = (int) x;
  f = x - i;
  d = self->q[i + 1] - self->q[i];
  return self->q[i] +
         f * (self->slope[i] + f * (3 * d - 2 * self->slope[i] - self->slope[i + 1] +
                                    f * (self->slope[i] + self->slope[i + 1] - 2 * d)));
}
static inline double
fc_between (double z1, double tail1, double z2, double tail2)
{
  if (z1 >= 0)
    return tail1 - tail2;
  if (z2 <= 0)
    return tail2 - tail1;
  return 1 - tail1 - tail2;
}

/* The same where a chance of 1e-19 is as good as none. */
static inline double
fc_tail_near (const FcTail *self, double abs_z)
{
  return abs_z < FC_TAIL_MAX ? fc_tail (self, abs_z) : 0;
}

static inline double
fc_above (const FcTail *self, double z)
{
  return z >= 0 ? fc_tail (self, z) : 1 - fc_tail_near (self, -z);
}

static inline double
fc_above_near (const FcTail *self, double z)
{
  return z >= 0 ? fc_tail_near (self, z) : 1 - fc_tail_near (self, -z);
}

/* Law of one wait at theta = 0. residual: the wait from an arrival in the middle of
 * the stage, whose age has density survival ÷ expected length. */
typedef struct
{
  double mu, sigma;
  bool residual;
} FcWait;

FcWait fc_wait_sum (FcWait a, FcWait b); /* log-normal by moments */
void fc_wait_moments (FcWait wait, double *mean, double *var);

/* Cells of time in which a stage may have begun. */
typedef struct
{
  int n;
  double lo;              /* evening after which it began, as used */
  double t[FC_CELLS + 1]; /* edges, evenings */
  double u[FC_CELLS + 1];
  double mid_t[FC_CELLS], mid_u[FC_CELLS];
  double weight[FC_CELLS]; /* 1, or the leak of a look */
} FcWindow;

typedef struct
{
  int n; /* moults to adult */
  CoreSex sex;
  double weight;
} FcHyp;

/* What is left out, to find what a fact moved. */
enum
{
  FC_LEAVE_LAST = 1,    /* how long the last finished stage took */
  FC_LEAVE_EARLIER = 2, /* those before it, but for the next one */
  FC_LEAVE_ARRIVAL = 4, /* how long after its arrival it moulted first */
  FC_LEAVE_WARMTH = 8,
  FC_LEAVE_SEX = 16,
  FC_LEAVE_SIZE = 32,
  FC_LEAVE_SUBADULT = 64,
  FC_LEAVE_ROOM = 128,
  FC_LEAVE_LOT = 512,
  FC_LEAVE_MOULTS = 1024,
  FC_FOR_MESSAGE = 256 /* adults and the dead too; no prior of the own effect */
};

typedef struct
{
  const CoreForecastInput *in;
  CoreForecastOptions opt;
  unsigned leave;
  const FcTail *tail;

  int n_nodes;
  double theta[FC_NODES], prior[FC_NODES];
  int n_hyps;
  FcHyp hyp[FC_HYPS];

  bool subadult; /* seen as such in the stage in progress */
  int n_stages;  /* that are used */
  int first_m;   /* m of slot 0 at the first stage */
  int slots;
  double m0[CORE_MAX_MOULTS + 1];

  const CoreMeasure *size; /* latest body length, or NULL */
  int size_stage;          /* its stage, counted from the first one used */

  /* alpha[((h * slots + s) * n_nodes + k) * row + i]: chance of all windows so far,
   * with m = first_m + stage + s in stage `stage` and its start in cell i. */
  double *alpha, *next;
  /* Numbers of moults whose stages are the same so far, and only their weights differ, are one in
   * the table until they part: that of `twin`, times `times`. After fc_past each has its own. */
  int twin[FC_HYPS];
  double times[FC_HYPS];
  int row; /* cells of the widest window */
  int stage;          /* counted from the first one used */
  bool start_unknown; /* the stage in progress began before the arrival */
  FcWindow window;    /* of the stage in progress */
  size_t now_at;      /* the stage in progress in the state */
  double began_lo, began_hi;
  CoreId began_entry;
} Fc;

/* What keeps the moult away, where no moult within the horizon has that chance. */
CoreStandstill fc_standstill (const CoreForecastInput *in, double beyond);
bool fc_complete (const CoreForecastInput *in);
bool fc_warm_enough (const CoreForecastInput *in); /* the warmth reaches far enough */

double fc_at (const Fc *self, double t); /* development at evening t */
double fc_rate_to_come (const Fc *self); /* mean development a day over the next 14 */
/* Log-sd of what development between two evenings owes to temperatures that were not read. */
double fc_warmth_sd (const Fc *self, double t1, double t2);
/* The same for all stages of the animal, where a room has told up to told_sd. */
double fc_shelf_sd (const CoreForecastInput *in, double told_sd);
FcWait fc_wait (const Fc *self, const FcHyp *hyp, int m, double warmth_sd);
/* Likelihood of the measured length if it was m moults after the hatch. */
double fc_size (const Fc *self, const FcHyp *hyp, int m);
static inline double *
fc_alpha (const Fc *self, double *table, int h, int s, int k)
{
  return table + ((size_t) (h * self->slots + s) * (size_t) self->n_nodes + (size_t) k) *
                   (size_t) self->row;
}

/* Hypotheses, nodes, first stage. CORE_BAD_INPUT when nothing says when a stage began. */
CoreStatus
fc_init (Fc *self, const CoreForecastInput *in, unsigned leave, bool coarse);
void fc_clear (Fc *self);
CoreStatus fc_past (Fc *self); /* the recursion over all windows */

/* The stage in progress, over cells of the days to come. */
typedef struct
{
  int n;           /* cells */
  double *t;       /* n + 1 edges; this and the next ones lie in one block */
  double *u;
  double *base[2]; /* [1] = the next moult makes it adult; no looks, no signs */
  double *look;    /* weight of the looks */
  double *found;   /* of the one that found the stage begun, alone */
  double *sign[2]; /* weight of the signs */
  double *sure[2]; /* what signs of the moult itself add to the cells, in no proportion to base */
  double *block;   /* owned */
  double today;
  double last_look;                 /* evening; NAN = none */
  double sign_none[2];              /* the same where no moult comes */
  double beyond[2];                 /* mass past the last edge */
  double left[CORE_MAX_MOULTS + 2]; /* mass by entries of moults still to come, 1 … */
  /* Adult date, for those who need more moults: development from u[0], by node. */
  size_t n_parts;
  struct FcPart
  {
    double mass, mean, var;
    double mu, sigma; /* of the log-normal law with these moments, once it is asked for */
  } * parts;
} FcNow;

/* Evening of the last look at the stage in progress, or of its beginning. */
double fc_last_look (const Fc *fc);
/* The law of wait m of the stage in progress, as it was in the room where that one began. */
FcWait fc_wait_here (const Fc *self, const FcHyp *hyp, int m, double warmth_sd);
/* One law of the wait; w[node][start cell] is the weight of all that share it. */
typedef struct
{
  FcWait law;
  bool last; /* the moult to come makes it adult */
  double *w; /* [node][start cell], owned */
  double *m; /* [node][start cell][3]: mass, and moments of u where it moults; owned */
  double mean, square; /* E D at theta = 0, and E D² over its square */
} FcGroup;

typedef struct
{
  Fc *fc;
  FcNow *now;
  double doubt;
  size_t n_groups, n_shares;
  FcGroup *groups;
  struct FcShare *shares;
  double *log_u; /* [start cell][edge]; the next ones lie behind it */
  double start_u[FC_CELLS];
  double *mid_u;     /* of each cell, from the first edge on */
  double *weight[2]; /* of looks and signs */
  double *mass;      /* of one law, node and start */
  double *excess;    /* what signs add to a cell, as a part of what they leave where no moult comes */
  double pace[FC_NODES]; /* exp (theta) */
  int today_edge;    /* the first that does not lie before today */
  int look_edge[2];  /* of the last look: where the days begin that it leaves open, and its evening */
} FcWork;

/* Adds to the cells what this law puts there, and finds its moments. core-forecast-mass.c */
void fc_spend (FcWork *work, FcGroup *group);
/* Weight of a moult at t where it was seen on the evening `seen` that none had come. */
double fc_unmoulted (const Fc *fc, double t, double seen);
CoreStatus fc_now (Fc *fc, FcNow *self);
void fc_now_clear (FcNow *self);
/* Weights of all signs but that one (skip = its index, or -1), over the cells. */
void fc_signs (const Fc *fc, FcNow *now, int skip);
/* Once `base` is there: what those that are the moult itself make of it. */
void fc_sure (const Fc *fc, FcNow *now, int skip);
/* The sign that is the moult itself and tells most, or NULL. */
const CoreSignSeen *fc_moulting (const Fc *fc, int skip);
bool fc_sign_counts (const CoreState *state, const CoreSignSeen *sign, CoreDay today);

enum
{
  FC_WITHOUT_LOOKS = 1,
  FC_WITHOUT_SIGNS = 2,
  FC_AFTER_LOOK = 4 /* only what comes after the last look: none was overlooked by it */
};
/* Quantile of the moult's evening, given that it comes within the horizon. */
double fc_quantile (const FcNow *now, unsigned without, double p);
/* Chance that it has come by evening t, given the same. */
double fc_by (const FcNow *now, unsigned without, double t);
double fc_mass (const FcNow *now, unsigned without, int i);

/* Weight of a hypothesis that makes m_next moults the next number of the animal. */
double fc_next_weight (const Fc *fc, const FcHyp *hyp, int m_next);
/* Length of the stage in progress at 25 °C, given all stages before it: 10, 50, 90 %, days.
 * *lent: the share for which the profile has no figure. */
CoreStatus fc_stage_days (const Fc *fc, double days[3], double *lent);
/* Days that are usual for wait number `wait`, at 25 °C; NAN where the stage is not known. */
double fc_usual_days (const Fc *fc, int wait);

/* A copy of the lot's state as of one animal of it; its stages are owned, free them. */
CoreStatus fc_lot_one (const CoreState *lot, bool ends, CoreState *one);

/* The law of one whole stage of one of a lot, over development days, given what the lot shares; see
 * core-forecast-lot-start.c. weight: of all numbers of moults that have this stage. */
#define FC_LOT_STEP .25
#define FC_LOT_DAYS 2400
typedef struct
{
  double weight;
  double by[FC_LOT_DAYS];
} FcLotLaw;

/* Nobody knows when the stage that a lot is in began. */
bool fc_lot_start_open (const CoreState *lot, CoreDay today);
CoreStatus fc_lot_law (const CoreForecastInput *in, const CoreState *one, int m, FcLotLaw *self);
double fc_lot_by (const FcLotLaw *self, double days);
/* Chance to moult within `days` of those that have not at the age `age`. */
double fc_lot_by_after (const FcLotLaw *self, double age, double days);
double fc_lot_oldest (const FcLotLaw *self, const CoreState *lot, const CoreWarmth *warmth);
void fc_adult (const Fc *fc, FcNow *now, CoreForecast *out);
CoreStatus fc_reasons (const Fc *fc, FcNow *now, CoreForecast *out);
/* Codes of the reasons forecast.warmth and forecast.stage. */
int fc_warmth_code (const CoreWarmth *warmth, double shift);
int fc_stage_code (const Fc *fc, double lent);
