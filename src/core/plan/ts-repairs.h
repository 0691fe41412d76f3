/* ts-repairs.h: what to repaint on the finished figure, in a painter's words
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "plan/ts-finish.h"

G_BEGIN_DECLS

typedef struct
{
  char *title;  /* "Coat: lift the lights" */
  char *detail; /* a line for each step: how far it is off, and its recipe */
} TsRepair;

/* Adds the repairs of one surface to an array of TsRepair. */
void ts_repairs_add  (GPtrArray              *repairs,
                      const char             *name,
                      const TsSurfaceResult  *planned,
                      const TsFinished       *finished);
void ts_repair_free  (TsRepair               *repair);

G_END_DECLS
