/* loop-probe.c: how long a main loop stays away from its poll
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "loop-probe.h"

#include <time.h>

static gint64 left_poll, left_poll_cpu; /* us */
static gint64 stall_end;                /* us */
static double stall, stall_computing;   /* ms */

gint64
loop_probe_thread_time (void)
{
  struct timespec t;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &t);
  return t.tv_sec * G_USEC_PER_SEC + t.tv_nsec / 1000;
}

static void
leave_poll (void)
{
  left_poll = g_get_monotonic_time ();
  left_poll_cpu = loop_probe_thread_time ();
}

static gint
probing_poll (GPollFD *fds, guint n, gint timeout)
{
  gint64 now = g_get_monotonic_time ();
  double away = (double) (now - left_poll) / 1000.0; /* ms */
  gint result;

  if (away > stall)
    {
      stall = away;
      stall_end = now;
    }
  stall_computing =
    MAX (stall_computing, (double) (loop_probe_thread_time () - left_poll_cpu) / 1000.0);
  result = g_poll (fds, n, timeout);
  leave_poll ();
  return result;
}

void
loop_probe_install (void)
{
  loop_probe_reset ();
  g_main_context_set_poll_func (NULL, probing_poll);
}

void
loop_probe_reset (void)
{
  stall = 0.0;
  stall_computing = 0.0;
  leave_poll ();
}

double
loop_probe_get_stall (void)
{
  return stall;
}

double
loop_probe_get_computing (void)
{
  return stall_computing;
}

gint64
loop_probe_get_stall_end (void)
{
  return stall_end;
}
