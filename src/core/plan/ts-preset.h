/* ts-preset.h: a painter's own wishes for stairs, kept under names
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "base/ts-file.h"
#include "steps/ts-stair.h"

G_BEGIN_DECLS

/* Of the settings only the range and the colours of light and shadow count. */
typedef struct
{
  char            *name;
  TsStairSettings  wishes;
} TsPreset;

TsPreset  *ts_preset_new    (const char             *name,
                             const TsStairSettings  *wishes);
void       ts_preset_free   (TsPreset               *preset);
/* Number of steps, spacing and base stay as they are. */
void       ts_preset_apply  (const TsPreset         *preset,
                             TsStairSettings        *settings);

/* An array of TsPreset; empty where there is no file yet. */
GPtrArray *ts_presets_load  (const char             *path,
                             GError                **error);
gboolean   ts_presets_save  (const GPtrArray        *presets,
                             const char             *path,
                             TsFileSaveFlags         flags,
                             GError                **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsPreset, ts_preset_free)

G_END_DECLS
