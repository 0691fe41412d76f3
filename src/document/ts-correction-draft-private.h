/* ts-correction-draft-private.h: what the files of the draft share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "document/ts-correction-draft.h"

G_BEGIN_DECLS

struct _TsCorrectionDraft
{
  GObject parent_instance;

  /* Owned */
  TsDocument *document;
  char *path;   /* of the photograph */
  char *chart;
  char *source; /* path of the other photograph, or NULL */
  TsCorrection *correction; /* worked out, or NULL */
  char *fault;
  TsCorrectionSettings base; /* as the plan has it */

  /* Values */
  guint picture;
  TsDraftChoice choice;
  TsPoint corner[4];
  gboolean has_corners;
  TsCardPlace disc[TS_N_DISCS];
  TsDraftDisc aim;
  gboolean use_guess;
  TsLightGuess guess;
  gboolean has_guess;
  TsChartReading reading;
  TsChartReference reference;
  gboolean has_reading;
  guint read_columns;           /* of the latest reading, 0: none */
  int patch[TS_CHART_PATCHES];  /* picture's order to chart's */
  guint wish, done;             /* numbers of the newest wish, and of what is worked out */
  guint least;                  /* answers to earlier wishes are to something else */
  gboolean running;
};

/* FALSE where something is still to be laid. */
gboolean ts_correction_draft_compile (TsCorrectionDraft          *self,
                                      TsCorrectionSettings       *settings);
/* Works out anew what is wished for, and says "changed". While a hand drags, answers to earlier
 * wishes are as good as any; where @other is asked for, they are not. */
void     ts_correction_draft_wish    (TsCorrectionDraft          *self,
                                      gboolean                    other);
void     ts_correction_draft_guess   (TsCorrectionDraft          *self);
void     ts_correction_draft_changed (TsCorrectionDraft          *self);

G_END_DECLS
