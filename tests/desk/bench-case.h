/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-case.h — a drawn picture whose truth is known, on the photo bench of a journal of its own. */
#pragma once

#include "desk-fixture.h"

#include <math.h>
#include <string.h>

#include "demo/demo-draw.h"
#include "desk/bench-model.h"

typedef struct
{
  Fixture base;
  DeskSubject *animal;
  CoreId photo;
  DemoTruth truth;
  BenchModel *bench;
} Bench;

CoreId add_photo (Bench *bench, const DemoDrawOptions *options);
BenchModel *load (Bench *bench);
void wait_found (BenchModel *model);
void close_bench (Bench *bench);
void set_up (Bench *bench, gconstpointer data);
void tear_down (Bench *bench, gconstpointer data);
CorePoint point (DemoPoint at);
void place_axis (Bench *bench);
void begin (Bench *bench);
void finish (Bench *bench, int small_plate, int last_plate);
void record (Bench *bench);
const CoreEntry *marked (Bench *bench);
void wait_suggested (BenchModel *model);
