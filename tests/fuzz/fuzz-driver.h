/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz-driver.h — a small fuzzer of its own: mutates a corpus, keeps what reaches new code.
 *
 * Deterministic: the same seed, corpus and number of runs give the same inputs. The code under
 * test is compiled with -fsanitize-coverage=trace-pc; which edges an input takes is counted here.
 */
#pragma once

#include <stddef.h>
#include <stdint.h>

typedef struct
{
  uint64_t state;
} FuzzRand;

uint64_t fuzz_next (FuzzRand *self);
size_t fuzz_below (FuzzRand *self, size_t n); /* 0 … n - 1; 0 for n = 0 */

typedef struct
{
  size_t max_bytes;            /* longer inputs are cut */
  const char *const *scraps;   /* pieces that mutations put in, NULL-ended */
  /* One input; must end the program (abort) when anything is wrong. `salt` varies the
   * surroundings; it is kept with the input. */
  void (*run) (const uint8_t *data, size_t length, uint32_t salt);
} FuzzTarget;

/* --seconds N | --runs N, --seed S, --corpus FILE (one input a line, escaped as in C), --grow FILE
 * writes the inputs that reached new code. Exit status of the program. */
int fuzz_main (int argc, char *argv[], const FuzzTarget *target);
