/* ts-light-guess.h: the colour of the light, guessed from the picture alone
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-colour.h"
#include "image/ts-image.h"

G_BEGIN_DECLS

/* What the light does to a neutral thing. */
typedef enum
{
  TS_CAST_NONE,
  TS_CAST_WARM,     /* yellow, orange, red */
  TS_CAST_GREENISH,
  TS_CAST_COOL,     /* blue */
  TS_CAST_PINKISH
} TsCast;

typedef struct
{
  TsXyz  light;    /* of a white thing in this light as the picture has it, Y = 1 */
  TsCast cast;
  double strength; /* CIEDE2000 of a mid grey in this light from a neutral one */
} TsLightGuess;

/* Shades of grey over the whole picture. Fails with TS_ERROR_TOO_FEW where nearly all is clipped or
 * black. A guess and no more: before a coloured wall it is wrong. */
gboolean    ts_light_guess       (const TsImage       *image,
                                  TsLightGuess        *guess,
                                  GError             **error);
/* One sentence that says it is a guess, translated. */
const char *ts_light_guess_words (const TsLightGuess  *guess);

G_END_DECLS
