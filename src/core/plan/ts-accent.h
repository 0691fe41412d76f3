/* ts-accent.h: a step and something more: a lip, a glint, what is mirrored from beside
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Kept with its surface; the step is one of the stair that the surface has, its own or another's. */
typedef struct
{
  char    *name;
  guint    step; /* from 0, the lit end */
  char    *paint; /* what comes to the step's mix, by its name */
  guint    parts; /* of it, 1 or more */
  gpointer extra;
} TsAccent;

#define TS_ACCENT_MOST_PARTS 100
#define TS_ACCENTS_MOST 100 /* of one surface */

TsAccent  *ts_accent_new          (const char      *name,
                                   guint            step,
                                   const char      *paint,
                                   guint            parts);
TsAccent  *ts_accent_copy         (const TsAccent  *accent);
void       ts_accent_free         (TsAccent        *accent);
/* A list of TsAccent that frees them; and a deep copy. */
GPtrArray *ts_accents_new         (void);
GPtrArray *ts_accents_copy        (const GPtrArray *accents);
/* Each follows its step: @moved has the new number of each old one. */
void       ts_accents_move        (GPtrArray       *accents,
                                   const guint     *moved,
                                   guint            n);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsAccent, ts_accent_free)

G_END_DECLS
