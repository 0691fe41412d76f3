/* plain-search.h: the nearest mixes by trying them all, slowly and plainly
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

#define PLAIN_BANDS 31

/* Paints as bare numbers. Names decide ties. */
typedef struct
{
  guint               n;
  const char *const  *names;
  const double      (*K)[PLAIN_BANDS];
  const double      (*S)[PLAIN_BANDS];
  double              k1, k2;
  const double      (*weights)[3]; /* to XYZ under D50 */
} PlainPaints;

typedef struct
{
  guint  n_paints;
  guint  paint[4]; /* rising */
  guint  parts[4];
  double lab[3];
  double delta_e;
} PlainMix;

/* CIEDE2000 as written in Sharma, Wu and Dalal (2005), angles in degrees. */
double plain_delta_e (const double       *one,
                      const double       *other);
void   plain_lab     (const PlainPaints  *paints,
                      const PlainMix     *mix,
                      double             *lab);
/* Fills @best with the nearest mixes of unlike sets of paints; returns how many there are. */
guint  plain_search  (const PlainPaints  *paints,
                      guint               max_paints,
                      guint               max_parts,
                      const double       *target,
                      PlainMix           *best,
                      guint               n_best);
/* The same for several targets, every mix coloured once: @best and @found hold @n_best and one for
 * each. */
void  plain_search_all (const PlainPaints *paints,
                      guint               max_paints,
                      guint               max_parts,
                      const double      (*targets)[3],
                      guint               n_targets,
                      PlainMix           *best,
                      guint               n_best,
                      guint              *found);
