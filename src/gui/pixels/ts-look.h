/* ts-look.h: how a picture looks to other eyes
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/pixels/ts-texture.h"
#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

/* The factor whose pixel is as wide as what merges at the distance the figure is seen from: for
 * ts_texture_draw(). */
guint    ts_look_get_blur   (TsView         *view,
                             const TsImage  *image);
/* Which grey of the screen stands for which, where lightness alone is shown in the steps of the
 * selected stair; FALSE without one. */
gboolean ts_look_find_steps (TsView         *view,
                             guint           picture,
                             guint8          codes[256]);
/* "values only", "at arm's length: 60 cm, 75 mm figure": what stands over the picture. */
char    *ts_look_dup_words  (TsView         *view,
                             TsLook          look,
                             gboolean        flat);
/* "reference, harbour.png" */
char    *ts_look_dup_picture (const TsPicture *picture);

G_END_DECLS
