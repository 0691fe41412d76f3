/* ts-check-brief.h: does a mix give what the client asked for
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "recipes/ts-recipe-search.h"

G_BEGIN_DECLS

typedef enum
{
  TS_BRIEF_FAILS,
  TS_BRIEF_MAY_PASS, /* inside the tolerance, but not at the edge of its error */
  TS_BRIEF_PASSES
} TsBriefVerdict;

TsBriefVerdict  ts_brief_check         (double          delta_e,
                                        double          error,
                                        double          tolerance);
const char     *ts_brief_verdict_to_id (TsBriefVerdict  verdict);

/* Lines of a brief: CSV with name,L,a,b[,tolerance], CGATS text, or words with sRGB codes. */
typedef struct
{
  char   *name;
  TsLab   lab;
  double  tolerance; /* CIEDE2000 */
} TsBriefEntry;

GPtrArray *ts_brief_load         (const char    *path,
                                  GError       **error);
GPtrArray *ts_brief_parse        (const char    *text,
                                  gssize         length,
                                  const char    *what,
                                  GError       **error);
/* "Faded teal #5f8a8b", or %NULL where there is no sRGB code. */
TsBriefEntry *ts_brief_entry_from_words (const char *line);
void       ts_brief_entry_free   (TsBriefEntry  *entry);

G_END_DECLS
