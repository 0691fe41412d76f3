/* ts-paint-rules.h: which paints a painter lets into mixes
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "recipes/ts-recipe-search.h"

G_BEGIN_DECLS

typedef enum
{
  TS_RULE_NONE,     /* used where it is in stock and no primer, varnish or medium */
  TS_RULE_ONLY,     /* used, and no paint without this rule or the last one is */
  TS_RULE_LEFT_OUT,
  TS_RULE_NEEDED    /* every mix holds it */
} TsPaintRule;

/* Rules by the paints' names, without regard to case, so that they outlive changes of the set. A
 * value: it never changes once made and is counted; threads may share it. %NULL stands for no rules. */
typedef struct _TsPaintRules TsPaintRules;

TsPaintRules *ts_paint_rules_ref      (TsPaintRules        *self);
void          ts_paint_rules_unref    (TsPaintRules        *self);
/* The same rules but for one paint; %NULL where none is left. */
TsPaintRules *ts_paint_rules_with     (const TsPaintRules  *self,
                                       const char          *paint,
                                       TsPaintRule          rule);
TsPaintRule   ts_paint_rules_get      (const TsPaintRules  *self,
                                       const char          *paint);
gboolean      ts_paint_rules_is_equal (const TsPaintRules  *self,
                                       const TsPaintRules  *other);
/* Names under one rule, in the order in which they were given: free the array, not the names. */
GPtrArray    *ts_paint_rules_get_names (const TsPaintRules *self,
                                       TsPaintRule          rule);

/* Limits of a search under rules; what they point to is owned here. */
typedef struct
{
  TsSearchLimits limits;
  GArray        *allowed;
  GArray        *needed;
} TsRuledLimits;

/* Adds the rules to @limits. */
gboolean      ts_ruled_limits_init    (TsRuledLimits         *self,
                                       const TsSearchLimits  *limits,
                                       const TsPaintRules    *rules,
                                       const TsPaintSet      *set,
                                       GError               **error);
void          ts_ruled_limits_clear   (TsRuledLimits         *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsPaintRules, ts_paint_rules_unref)
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (TsRuledLimits, ts_ruled_limits_clear)

G_END_DECLS
