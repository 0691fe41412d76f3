/* ts-correction-draft.h: the correction of one photograph while the painter works on it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "correction/ts-chart.h"
#include "correction/ts-light-guess.h"
#include "document/ts-document.h"

G_BEGIN_DECLS

/* Best first. */
typedef enum
{
  TS_DRAFT_CHART,
  TS_DRAFT_CARD,
  TS_DRAFT_OTHER, /* as in another photograph of the shoot */
  TS_DRAFT_NONE,
  TS_DRAFT_N_CHOICES
} TsDraftChoice;

/* Discs that can lie on the pictures: neutral cards, and one grey card in both photographs. */
typedef enum
{
  TS_DISC_GREY,
  TS_DISC_WHITE,
  TS_DISC_BLACK,
  TS_DISC_HERE,
  TS_DISC_THERE, /* lies in the other photograph */
  TS_N_DISCS
} TsDraftDisc;

/* Where the patches of the chart lie, in the order of the picture. */
typedef struct
{
  guint n_columns;               /* 6, or 4 on a chart on its side */
  TsPoint corner[TS_CHART_PATCHES][4];
  int  patch[TS_CHART_PATCHES];  /* which of the chart's patches it is, -1: not known yet */
} TsChartLayout;

/* Nothing of the plan changes before it is kept. Whatever is asked for is worked out on another
 * thread; while that lasts only the newest wish waits. Emits "changed". */
#define TS_TYPE_CORRECTION_DRAFT (ts_correction_draft_get_type ())
G_DECLARE_FINAL_TYPE (TsCorrectionDraft, ts_correction_draft, TS, CORRECTION_DRAFT, GObject)

TsCorrectionDraft      *ts_correction_draft_new           (TsDocument        *document,
                                                           guint              picture);
guint                   ts_correction_draft_get_picture   (TsCorrectionDraft *self);
TsDraftChoice           ts_correction_draft_get_choice    (TsCorrectionDraft *self);
void                    ts_correction_draft_choose        (TsCorrectionDraft *self,
                                                           TsDraftChoice      choice);

/* The chart: four corners, %NULL before they are laid. */
const TsPoint          *ts_correction_draft_get_corners   (TsCorrectionDraft *self);
void                    ts_correction_draft_set_corners   (TsCorrectionDraft *self,
                                                           const TsPoint      corners[4]);
void                    ts_correction_draft_move_corner   (TsCorrectionDraft *self,
                                                           guint              corner,
                                                           TsPoint            place);
gboolean                ts_correction_draft_lay_out       (TsCorrectionDraft *self,
                                                           TsChartLayout     *layout);
/* "earlier", "later", or the path of a CGATS file. */
const char             *ts_correction_draft_get_chart     (TsCorrectionDraft *self);
void                    ts_correction_draft_set_chart     (TsCorrectionDraft *self,
                                                           const char        *chart);

/* Discs; radius 0: not laid. The aim is the one that a click on the picture lays. */
const TsCardPlace      *ts_correction_draft_get_disc      (TsCorrectionDraft *self,
                                                           TsDraftDisc        disc);
void                    ts_correction_draft_find_disc     (TsCorrectionDraft *self,
                                                           TsDraftDisc        disc,
                                                           TsPoint            place);
void                    ts_correction_draft_set_disc      (TsCorrectionDraft *self,
                                                           TsDraftDisc        disc,
                                                           TsPoint            place,
                                                           double             radius);
void                    ts_correction_draft_set_lightness (TsCorrectionDraft *self,
                                                           TsDraftDisc        disc,
                                                           double             lightness);
void                    ts_correction_draft_clear_disc    (TsCorrectionDraft *self,
                                                           TsDraftDisc        disc);
TsDraftDisc             ts_correction_draft_get_aim       (TsCorrectionDraft *self);
void                    ts_correction_draft_set_aim       (TsCorrectionDraft *self,
                                                           TsDraftDisc        disc);

/* The other photograph: index of a picture with a chart or cards of its own, or -1. */
gboolean                ts_correction_draft_may_lend      (TsCorrectionDraft *self,
                                                           guint              picture);
int                     ts_correction_draft_get_source    (TsCorrectionDraft *self);
void                    ts_correction_draft_set_source    (TsCorrectionDraft *self,
                                                           guint              picture);

/* The light as it can be guessed; %NULL until it is, or where it cannot be. */
const TsLightGuess     *ts_correction_draft_get_guess     (TsCorrectionDraft *self);
gboolean                ts_correction_draft_get_use_guess (TsCorrectionDraft *self);
void                    ts_correction_draft_set_use_guess (TsCorrectionDraft *self,
                                                           gboolean           use);

/* What came of it: of the latest wish that is worked out. */
gboolean                ts_correction_draft_get_busy      (TsCorrectionDraft *self);
TsCorrection           *ts_correction_draft_get_correction (TsCorrectionDraft *self);
const TsChartReading   *ts_correction_draft_get_reading   (TsCorrectionDraft *self);
const TsChartReference *ts_correction_draft_get_reference (TsCorrectionDraft *self);
const char             *ts_correction_draft_get_fault     (TsCorrectionDraft *self);
/* Whether it is worked out and another than the plan has. */
gboolean                ts_correction_draft_can_keep      (TsCorrectionDraft *self);
gboolean                ts_correction_draft_keep          (TsCorrectionDraft *self,
                                                           GError           **error);

G_END_DECLS
