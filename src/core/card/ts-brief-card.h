/* ts-brief-card.h: the client's card: what was asked for beside what is mixed
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "card/ts-card.h"
#include "plan/ts-brief-result.h"

G_BEGIN_DECLS

/* Holds all it draws; it never changes; threads may share it. */
typedef struct _TsBriefCard TsBriefCard;

/* @results are TsBriefResult; @title is the plan's; @date (nullable) is shown as it stands. */
TsBriefCard *ts_brief_card_new         (const GArray       *results,
                                        const char         *title,
                                        const char         *date,
                                        TsPaper             paper);
void         ts_brief_card_unref       (TsBriefCard        *self);
guint        ts_brief_card_get_n_pages (const TsBriefCard  *self);
void         ts_brief_card_draw        (const TsBriefCard  *self,
                                        guint               page,
                                        cairo_t            *cr);
/* PDF, SVG or PNG by the ending of @path. */
gboolean     ts_brief_card_save        (const TsBriefCard  *self,
                                        const char         *path,
                                        GError            **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsBriefCard, ts_brief_card_unref)

G_END_DECLS
