/* loop-probe.h: how long a main loop stays away from its poll
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

gint64 loop_probe_thread_time     (void); /* us that this thread has computed */

/* One a process: g_main_context_set_poll_func() takes no data. */
void   loop_probe_install         (void);
/* What was longest since: all that the loop does happens between two polls. */
void   loop_probe_reset           (void);
double loop_probe_get_stall       (void); /* ms */
double loop_probe_get_computing   (void); /* ms of this thread's own time in one stretch */
gint64 loop_probe_get_stall_end   (void); /* us: the monotonic time when the longest was over */
