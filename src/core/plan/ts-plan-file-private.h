/* ts-plan-file-private.h: what the writer and the reader of plans share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <json-glib/json-glib.h>

#include "plan/ts-plan-file.h"

G_BEGIN_DECLS

#define TS_PLAN_FORMAT "tonestair-plan"
#define TS_PLAN_ESCAPED "file:" /* before a path that is escaped as in a URI */
#define TS_PLAN_MAX_PLACE      1e6 /* pixels: against absurd files */

/* One spot is one array of numbers in the file; these name its places. */
enum
{
  TS_SPOT_COLUMN_X,
  TS_SPOT_COLUMN_Y,
  TS_SPOT_COLUMN_RADIUS,
  TS_SPOT_COLUMN_POSITION,
  TS_SPOT_COLUMN_L,
  TS_SPOT_COLUMN_A,
  TS_SPOT_COLUMN_B,
  TS_SPOT_COLUMN_SPREAD,
  TS_SPOT_COLUMN_PIXELS,
  TS_SPOT_COLUMN_CLIPPED,
  TS_SPOT_COLUMN_STANDARD_ERROR,
  TS_N_SPOT_COLUMNS
};

extern const char *const ts_plan_spot_columns[TS_N_SPOT_COLUMNS + 1];
extern const char *const ts_plan_role_words[];
extern const char *const ts_plan_correction_words[];
extern const char *const ts_plan_spacing_words[];

/* Members that are known of an object within an object. */
typedef struct
{
  const char        *member;
  const char *const *known;
} TsPlanInner;

gpointer   ts_plan_take_extra (JsonObject         *object,
                               const char *const  *known,
                               const TsPlanInner  *inner);
gboolean   ts_plan_chart_is_file (const char      *chart);
gboolean   ts_plan_read_index (JsonObject         *object,
                               const char         *member,
                               const char         *where,
                               guint               n,
                               guint              *index,
                               GError            **error);
gboolean   ts_plan_read_word  (JsonObject         *object,
                               const char         *member,
                               const char         *where,
                               const char *const  *words,
                               int                *index,
                               GError            **error);
gboolean   ts_plan_read_whole_or (JsonObject      *object,
                               const char         *member,
                               const char         *where,
                               double              least,
                               double              most,
                               guint               fallback,
                               guint              *whole,
                               GError            **error);
gboolean   ts_plan_read_mix   (JsonObject         *object,
                               TsPlan             *plan,
                               GError            **error);
gboolean   ts_plan_read_lab   (JsonObject         *object,
                               const char         *member,
                               const char         *where,
                               TsLab              *lab,
                               GError            **error);
JsonObject *ts_plan_build_stair (const TsStairSettings *stair);
gboolean   ts_plan_read_stair (JsonObject         *object,
                               const char         *where,
                               TsStairSettings    *stair,
                               GError            **error);
gboolean   ts_plan_read_surface (TsPlan           *plan,
                               JsonObject         *object,
                               const char         *where,
                               GError            **error);
TsOutline *ts_plan_read_outline (const TsPlan     *plan,
                               JsonObject         *object,
                               const char         *where,
                               GError            **error);
TsRun     *ts_plan_read_run   (const TsPlan       *plan,
                               JsonObject         *object,
                               const char         *where,
                               GError            **error);

G_END_DECLS
