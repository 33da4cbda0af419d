/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-faulty.h — the n-th allocation, write, sync of SQLite fails: for loops over n until an
 * operation goes through untouched. */
#pragma once

#include "store-testing.h"

typedef enum
{
  FAULT_NONE,
  FAULT_FULL,        /* a write finds no room */
  FAULT_SHORT_WRITE, /* half of it is written, then an error */
  FAULT_SYNC,
  FAULT_TRUNCATE,
  FAULT_OPEN,
  FAULT_READ
} Fault;

typedef struct
{
  Fault fault;
  int countdown;
  gboolean stays; /* from the n-th on, as a full disk does */
  int spent;      /* how often it has struck */
} FaultyFiles;

extern FaultyFiles faulty_files;
extern int faulty_mem_countdown; /* 0 = off */
extern int faulty_mem_spent;

void faulty_install (void); /* before anything else of SQLite */
void faulty_off (void);
/* The next number of a fault after `n`. Of memory, where one operation takes thousands, the first
 * ones each and from then on every `step`-th: so the last steps, the commit among them, are struck
 * in turn. All of them when the program was called with --every. */
int faulty_next (int n, int step);
void faulty_take_args (int argc, char **argv);
