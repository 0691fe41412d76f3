/* ts-pigment-class.h: kinds of paint that are sold, by what colours them; approximate
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "paint/ts-paint-set.h"

G_BEGIN_DECLS

/* One kind of paint. Colours are approximate, from memory: no one paint is meant. */
typedef struct
{
  const char *id;       /* for files */
  const char *what;     /* "a strong violet"; untranslated */
  const char *families; /* "dioxazine or quinacridone"; untranslated */
  const char *pigments; /* pigment index names: "PV23, PV19" */
  TsOpacity   opacity;
  TsLab       tint;     /* of one part in four of white, D50 */
  double      scatter;  /* as a share of white's */
} TsPigmentClass;

guint                 ts_pigment_class_get_n   (void);
const TsPigmentClass *ts_pigment_class_get     (guint               index);
/* @set with a paint of every kind at its end, in order, from which paints might be bought. */
TsPaintSet           *ts_pigment_class_add_all (const TsPaintSet   *set,
                                                GError            **error);

G_END_DECLS
