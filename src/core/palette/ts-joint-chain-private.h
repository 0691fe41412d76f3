/* ts-joint-chain-private.h: the steps as a chain, and the cheapest way along it at given prices
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gio/gio.h>

#include "palette/ts-joint.h"

G_BEGIN_DECLS

typedef enum
{
  TS_PRICE_FREE, /* it costs its price of the step */
  TS_PRICE_PAID, /* it is bought and costs nothing more */
  TS_PRICE_OUT   /* it may not be used */
} TsPriceState;

/* One recipe of one step. */
typedef struct
{
  guint   n;                           /* paints */
  guint16 paint[TS_RECIPE_MAX_PAINTS]; /* places in the chain's own list of paints */
  double  cost;
  guint  *subset; /* borrowed: number of each of its 1 << n subsets, alike in all steps */
  guint   place;  /* in its step's recipes */
} TsChainRecipe;

typedef struct
{
  /* Owned */
  GArray  **steps;  /* TsChainRecipe */
  gboolean *apart;
  GArray   *paints; /* guint: index in the set */
  GPtrArray *subsets;

  guint     n_steps, n_subsets;
  guint     n_taken, n_left; /* of the last block of subsets */
  double    change;
  GCancellable *cancellable; /* borrowed, nullable */

  /* Room for a run */
  double   *reach;      /* of each subset: least cost of a recipe of the step before that holds it */
  guint    *reach_step; /* which step it was set for, plus 1 */
  guint    *reach_from;
  double  **least;      /* [step][recipe]: least cost up to it and with it */
  guint   **from;       /* [step][recipe]: the recipe before it */
} TsJointChain;

TsJointChain *ts_joint_chain_new   (const GArray          *steps,
                                    double                 change,
                                    GCancellable          *cancellable);
void          ts_joint_chain_free  (TsJointChain          *self);
/* Cheapest way; @price holds a number for each step and paint, or %NULL for none. Fills @path with
 * places in the chain's steps; infinity where there is no way. */
double        ts_joint_chain_run   (TsJointChain          *self,
                                    const guint8          *state,
                                    const double          *price,
                                    guint                 *path);
/* Forgets recipes that no way of at most @most goes through. */
void          ts_joint_chain_prune (TsJointChain          *self,
                                    const guint8          *state,
                                    const double          *price,
                                    double                 most);
/* What @path costs without any paint's price; paints that come in or go out. */
double        ts_joint_chain_sum   (const TsJointChain    *self,
                                    const guint           *path,
                                    guint                 *n_changes);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsJointChain, ts_joint_chain_free)

G_END_DECLS
