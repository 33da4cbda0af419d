/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sex-case.h — profiles, readings and their combination, for tests of the evidence about the sex. */
#pragma once

#include <glib.h>
#include <math.h>
#include <string.h>

#include "core/core-sex.h"

static inline CoreProfile
profile_of (bool empusid)
{
  CoreProfile p;
  memset (&p, 0, sizeof p);
  p.male_prior = .5;
  p.readable_from = 3;
  p.empusid = empusid;
  p.tp_mean[0] = 2.55;
  p.tp_sd[0] = .20;
  p.tp_mean[1] = 2.0;
  p.tp_sd[1] = .25;
  return p;
}

static inline CoreId
photo (int n)
{
  CoreId id = { { 0 } };
  id.b[14] = (uint8_t) (n >> 8);
  id.b[15] = (uint8_t) n;
  return id;
}

static inline CoreSexInput
marked (int moults, int photo_n, int count, int small, int last)
{
  CoreSexInput in;
  core_sex_input_init (&in, CORE_KIND_MARKED);
  core_sex_input_moults (&in, moults);
  in.reading.photo = photo (photo_n);
  in.reading.count = count;
  in.reading.by_keeper = count >= 0;
  in.reading.small_plate = small;
  in.reading.last_plate = last;
  return in;
}

static inline CoreSexInput
sexed (int moults, int method, CoreSex sex)
{
  CoreSexInput in;
  core_sex_input_init (&in, CORE_KIND_SEXED);
  core_sex_input_moults (&in, moults);
  in.reading.method = method;
  in.reading.sex = sex;
  return in;
}

static inline CoreSexVerdict
combine (const CoreProfile *profile, const CoreSexInput *in, size_t n)
{
  CoreSexVerdict v;
  g_assert_cmpint (core_sex_combine (profile, in, n, &v), ==, CORE_OK);
  g_assert_cmpfloat_with_epsilon (v.male + v.female, 1, 1e-12);
  return v;
}

static inline double
male_of (const CoreProfile *profile, const CoreSexInput *in, size_t n)
{
  CoreSexVerdict v = combine (profile, in, n);
  double male = v.male;
  core_sex_verdict_clear (&v);
  return male;
}
