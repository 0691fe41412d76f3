/* ts-mixing-sequence.h: the order of work at the palette: put out, paint, keep, add
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "recipes/ts-recipe.h"

G_BEGIN_DECLS

/* Common practice, no source: a dropper bottle's drop and a thin brushed coat. */
#define TS_USUAL_DROP  40.0 /* mm3 */
#define TS_USUAL_FILM  0.05 /* mm, wet */
#define TS_USUAL_AREA  400.0 /* mm2, where nothing is said of a surface */
#define TS_USUAL_COATS 2.0
#define TS_USUAL_SPARE 0.5  /* of what the surface takes, more: brush and palette keep some */
#define TS_MIXING_MOST_STEPS 32

typedef struct
{
  guint  base;     /* the step to begin with; it covers the whole area, the others their band */
  double area;     /* mm2 */
  const double *shares; /* of the area in each step's band, or %NULL: alike */
  double coats;    /* of each step */
  double drop;     /* mm3 */
  double thinning; /* parts of medium to one of paint, as it is brushed; 0: none */
} TsSequenceSettings;

typedef enum
{
  TS_WORK_PUT_OUT,   /* a new puddle */
  TS_WORK_ADD,       /* to the puddle that is there */
  TS_WORK_PAINT,
  TS_WORK_SET_ASIDE, /* from the base, for the other way */
  TS_WORK_KEEP,      /* a part of the puddle; the rest is left over */
  TS_WORK_TAKE_UP,   /* what was set aside becomes the puddle */
  TS_WORK_CLEAR      /* the puddle is done with; what there is of it is left over */
} TsWorkKind;

/* One thing to do. Amounts are drops. */
typedef struct
{
  TsWorkKind kind;
  guint      step;                        /* that it is for */
  guint      n_paints;                    /* put out or added */
  guint      paint[TS_RECIPE_MAX_PAINTS]; /* indices in the set */
  guint      drops[TS_RECIPE_MAX_PAINTS];
  double     amount;                      /* of the mix: painted, set aside, kept or taken up */
  double     left;                        /* left over by it */
  double     puddle;                      /* that lie on the palette, mixed, after it */
  guint      medium;                      /* to thin what is painted */
} TsWork;

/* It never changes once made; it is counted. */
typedef struct _TsMixingSequence TsMixingSequence;

void              ts_sequence_settings_init   (TsSequenceSettings        *settings);
/* From the base down into the shadows, then up into the lights; step 0 is the lightest. */
TsMixingSequence *ts_mixing_sequence_new      (const TsRecipe            *recipes,
                                               guint                      n_steps,
                                               const TsSequenceSettings  *settings);
TsMixingSequence *ts_mixing_sequence_ref      (TsMixingSequence          *self);
void              ts_mixing_sequence_unref    (TsMixingSequence          *self);
guint             ts_mixing_sequence_get_n    (const TsMixingSequence    *self);
const TsWork     *ts_mixing_sequence_get_work (const TsMixingSequence    *self,
                                               guint                      index);
/* Drops in all: put out, and of these left over. */
guint             ts_mixing_sequence_get_drops (const TsMixingSequence   *self,
                                               double                    *left);
/* Drops that a step needs. */
double            ts_sequence_settings_get_need (const TsSequenceSettings *settings,
                                               guint                      n_steps,
                                               guint                      step);
/* What to do, in a painter's words; @medium (nullable) names what it is thinned with. */
char             *ts_work_to_text             (const TsWork              *work,
                                               const TsPaintSet          *set,
                                               const char                *medium);
/* The same work has the same key in every language, whatever stands before and after it. */
char             *ts_work_to_key              (const TsWork              *work,
                                               const TsPaintSet          *set);
/* "put_out", "add", "paint", "set_aside", "keep", "take_up", "clear": for files. */
const char       *ts_work_kind_to_id          (TsWorkKind                 kind);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsMixingSequence, ts_mixing_sequence_unref)

G_END_DECLS
