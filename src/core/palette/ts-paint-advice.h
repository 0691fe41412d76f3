/* ts-paint-advice.h: what to say of colours that no mix reaches, and which paint would help
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "palette/ts-pigment-class.h"
#include "recipes/ts-recipe-search.h"

G_BEGIN_DECLS

/* How the nearest mix differs from a wanted colour: signed, nearest less wanted. */
typedef struct
{
  TsReach reach;
  TsLab   nearest;
  double  delta_e; /* CIEDE2000 */
  double  L, C;    /* lightness and chroma that it has more */
  double  h;       /* degrees, -180..180; 0 where either is near to grey */
} TsShortfall;

/* A kind of paint that would bring wanted colours nearer. Approximate. */
typedef struct
{
  const TsPigmentClass *pigment;
  TsLab                 masstone;
  guint                 n_helped;  /* colours that come at least CIEDE2000 1 nearer */
  guint                 n_reached; /* of those: that come within reach */
  double                gain;      /* CIEDE2000 nearer, summed over the colours */
} TsPaintAdvice;

TsShortfall ts_shortfall_of       (TsLab                  wanted,
                                   const TsRecipe        *nearest,
                                   double                 reach);
/* What the nearest mix is: "darker and duller", "of another hue". */
const char *ts_shortfall_to_word  (const TsShortfall     *self);
/* "Out of reach by about dE 7: too chromatic. The nearest mix is duller." */
char       *ts_shortfall_to_text  (const TsShortfall     *self);
/* The best kind of paint for @targets and, after it, the one that helps most beside it: an array of
 * at most two TsPaintAdvice. @nearest holds how near each comes without. */
GArray     *ts_paint_advice_find  (const TsPaintSet      *set,
                                   const TsSearchLimits  *limits,
                                   const TsLab           *targets,
                                   const double          *nearest,
                                   guint                  n,
                                   GCancellable          *cancellable,
                                   GError               **error);
/* "A strong violet, e.g. of the dioxazine or quinacridone family (PV23, PV19), would bring 2 of 3
 * colours nearer, by about dE 5 each. Approximate." */
char       *ts_paint_advice_to_text (const TsPaintAdvice *self,
                                   guint                  n_targets);

G_END_DECLS
