/* ts-tone-path.h: which of many colours are one surface in more and less light
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-colour.h"

G_BEGIN_DECLS

/* Marks in @kept which of the colours lie on the path that most of them follow. */
void ts_tone_path_follow (const TsLab *colours,
                          gsize        n,
                          gboolean    *kept);

G_END_DECLS
