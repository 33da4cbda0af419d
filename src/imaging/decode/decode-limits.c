/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decode-limits.c — address space, processor time, no network, no new programs.
 *
 * Invariant: called before the first byte of the picture is looked at. A
 * limit only ever goes down.
 */
#include "imaging/decode/decode-limits.h"
#include "imaging/decode/decode-wire.h"

#include <errno.h>
#include <linux/audit.h>
#include <linux/filter.h>
#include <linux/seccomp.h>
#include <malloc.h>
#include <stddef.h>
#include <stdio.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <sys/syscall.h>
#include <unistd.h>

#define MIB ((rlim_t) 1024 * 1024)

/* Programs, libraries, loader modules, thread stacks and heaps of the HEIC decoder. */
#define BASE_BYTES (768 * MIB)

/* The largest picture, byte by byte of each pixel: what the loader hands over (RGBA, 4), the
 * upright copy in the memory file counts only as file, not as address space (0), and what a
 * loader keeps beside it while it works: planes of a HEIC and its joined copy (3 + 4), more than
 * the coefficients of a progressive JPEG (3 × 2) or a TIFF buffered whole (3, doubled as it
 * grows: 6). */
#define BYTES_PER_PIXEL (4 + 7)

/* 200 megapixels of PNG take about ten seconds on a slow machine of today. */
#define CPU_SECONDS 60

#if defined(__SANITIZE_ADDRESS__)
#define WITH_ADDRESS_SANITIZER 1
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define WITH_ADDRESS_SANITIZER 1
#endif
#endif

#if defined(__x86_64__)
#define OUR_ARCH AUDIT_ARCH_X86_64
#elif defined(__aarch64__)
#define OUR_ARCH AUDIT_ARCH_AARCH64
#endif

#define DENY(nr)                                                                                   \
  BPF_JUMP (BPF_JMP | BPF_JEQ | BPF_K, (nr), 0, 1),                                                \
    BPF_STMT (BPF_RET | BPF_K, SECCOMP_RET_ERRNO | EACCES)

static gboolean
deny_network_and_programs (void)
{
#ifdef OUR_ARCH
  struct sock_filter rules[] = {
    BPF_STMT (BPF_LD | BPF_W | BPF_ABS, offsetof (struct seccomp_data, arch)),
    BPF_JUMP (BPF_JMP | BPF_JEQ | BPF_K, OUR_ARCH, 1, 0),
    BPF_STMT (BPF_RET | BPF_K, SECCOMP_RET_KILL_PROCESS),
    BPF_STMT (BPF_LD | BPF_W | BPF_ABS, offsetof (struct seccomp_data, nr)),
#ifdef __x86_64__
    /* The x32 numbers name the same calls again. */
    BPF_JUMP (BPF_JMP | BPF_JGE | BPF_K, 0x40000000, 0, 1),
    BPF_STMT (BPF_RET | BPF_K, SECCOMP_RET_ERRNO | EACCES),
#endif
    DENY (__NR_socket),
    DENY (__NR_socketpair),
    DENY (__NR_connect),
    DENY (__NR_bind),
    DENY (__NR_sendto),
    DENY (__NR_execve),
    DENY (__NR_execveat),
    DENY (__NR_io_uring_setup),
    BPF_STMT (BPF_RET | BPF_K, SECCOMP_RET_ALLOW),
  };
  struct sock_fprog program = { .len = G_N_ELEMENTS (rules), .filter = rules };

  return prctl (PR_SET_SECCOMP, SECCOMP_MODE_FILTER, &program) == 0;
#else
  return FALSE;
#endif
}

gboolean
decode_limits_close_doors (void)
{
  gboolean no_privileges = prctl (PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0;

#ifndef WITH_ADDRESS_SANITIZER
  /* A core file would hold the keeper's photo. (The leak checker traces its own process.) */
  if (prctl (PR_SET_DUMPABLE, 0, 0, 0, 0) != 0)
    return FALSE;
#endif
  return no_privileges && deny_network_and_programs ();
}

/* `hard` >= `soft`; RLIM_INFINITY is the largest rlim_t. */
static gboolean
lower (int resource, rlim_t soft, rlim_t hard)
{
  struct rlimit limit;

  if (getrlimit (resource, &limit) != 0)
    return FALSE;
  limit.rlim_max = MIN (limit.rlim_max, hard);
  limit.rlim_cur = MIN (limit.rlim_max, soft);
  return setrlimit (resource, &limit) == 0;
}

gboolean
decode_limits_apply (guint memory_mb, guint cpu_seconds, gsize file_size)
{
  rlim_t cpu = cpu_seconds > 0 ? MIN (cpu_seconds, CPU_SECONDS) : CPU_SECONDS;
  /* At the soft limit SIGXCPU, which the caller can tell from a crash; a little later SIGKILL. */
  gboolean ok = lower (RLIMIT_CPU, cpu, cpu + 5) && lower (RLIMIT_CORE, 0, 0);

#ifndef WITH_ADDRESS_SANITIZER
  /* A sanitizer reserves terabytes of shadow: there the limit cannot be. */
  rlim_t bytes = BASE_BYTES + (rlim_t) DECODE_MAX_PIXELS * BYTES_PER_PIXEL + file_size;

  if (memory_mb > 0)
    bytes = MIN (bytes, (rlim_t) memory_mb * MIB);
  /* Each heap of its own reserves 64 MiB of address space, used or not. */
  mallopt (M_ARENA_MAX, 2);
  ok = lower (RLIMIT_AS, bytes, bytes) && ok;
#endif
  return ok;
}

static void
print_limit (const char *name, int resource)
{
  struct rlimit limit;

  if (getrlimit (resource, &limit) == 0 && limit.rlim_cur != RLIM_INFINITY)
    printf ("%s=%llu ", name, (unsigned long long) limit.rlim_cur);
  else
    printf ("%s=none ", name);
}

void
decode_limits_print (void)
{
  int fd = socket (AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0);

  print_limit ("address-space", RLIMIT_AS);
  print_limit ("cpu", RLIMIT_CPU);
  printf ("network=%s ", fd < 0 && errno == EACCES ? "no" : "yes");
  printf ("privileges=%s\n", prctl (PR_GET_NO_NEW_PRIVS, 0, 0, 0, 0) == 1 ? "fixed" : "open");
  if (fd >= 0)
    close (fd);
}
