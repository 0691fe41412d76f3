/* ts-paint-caution.c: what a paint's pigment index names call for
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-paint-private.h"

#include <glib/gi18n.h>
#include <string.h>

typedef struct
{
  const char *pigments; /* Colour Index generic names, each between blanks */
  const char *sentence;
} Caution;

/* Which pigment holds what: Colour Index generic names, from memory. That they are cautioned:
 * common practice, no source. Of metals only those compounds are here that are commonly cautioned:
 * not the oxides of chromium(III) (PG17, PG18), zinc (PW4) or iron, sulphate of barium (PW21, PW22)
 * nor phthalocyanines of copper. A label or a safety data sheet knows better. */
static const Caution cautions[] = {
  { " PW1 PW2 PY34 PY41 PY46 PR103 PR104 PR105 PO21 PG15 ",
    N_ ("Contains a lead pigment: toxic if swallowed or inhaled.") },
  { " PY31 PY32 PY33 PY34 PY36 PR103 PR104 PO21 PG15 ",
    N_ ("Contains a chromate pigment: toxic if inhaled or swallowed.") },
  { " PR106 PR113 PO23 ", N_ ("Contains a mercury pigment: toxic if swallowed or inhaled.") },
  { " PY39 PG21 PG22 ", N_ ("Contains an arsenic pigment: toxic if swallowed or inhaled.") },
  { " PY35 PY37 PO20 PO23 PR108 PR113 PG14 ",
    N_ ("Contains a cadmium pigment: harmful if inhaled or swallowed.") },
  { " PB28 PB32 PB35 PB36 PB72 PB73 PB74 PB81 PBk27 PBk29 PG14 PG19 PG26 PG50 PV14 PV47 PV48 PV49 "
    "PY40 ",
    N_ ("Contains a cobalt pigment: harmful if inhaled or swallowed.") },
  { " PY53 PY57 PY150 PY153 PY157 PY161 PY189 PBk30 PG10 PO68 PR257 ",
    N_ ("Contains a nickel pigment: harmful if inhaled, may cause an allergy.") },
  { " PB33 PBk14 PBk26 PBk33 PBr8 PBr40 PV16 PY164 ",
    N_ ("Contains a manganese pigment: harmful if inhaled or swallowed.") },
  { " PW10 PB33 PY31 ", N_ ("Contains a barium pigment: harmful if swallowed.") },
  { " PW11 PY41 PY53 PY164 PBr24 PBr40 PR107 ",
    N_ ("Contains an antimony pigment: harmful if inhaled or swallowed.") },
  { " PB30 PBk28 PG20 PG21 PG22 PG39 ",
    N_ ("Contains a copper compound: harmful if swallowed or inhaled.") },
  { " PY184 ", N_ ("Contains a vanadium pigment: harmful if inhaled.") },
};

static const char *const advice =
  N_ ("Never point the brush with your lips, and do not sand or spray "
      "it unprotected. Follow the maker's label and safety data sheet.");

/* Whether a list like "PB29, PW6" names the pigment; "PR108:1" counts as PR108. */
static gboolean
is_cautioned (const Caution *caution, char *const *names)
{
  g_autofree char *known = g_ascii_strup (caution->pigments, -1);

  for (; *names != NULL; names++)
    {
      g_autofree char *padded = g_strconcat (" ", *names, " ", NULL);

      if (**names != '\0' && strstr (known, padded) != NULL)
        return TRUE;
    }
  return FALSE;
}

char *
ts_pigments_dup_caution (const char *pigments)
{
  g_autofree char *upper = g_ascii_strup (pigments, -1);
  g_auto (GStrv) names = NULL;
  g_autoptr (GString) text = g_string_new (NULL);

  /* What follows a colon is a variety of the same pigment: it is split off and names nothing. */
  names = g_strsplit_set (upper, " ,;:+/|()\t\n", -1);
  for (gsize i = 0; i < G_N_ELEMENTS (cautions); i++)
    if (is_cautioned (&cautions[i], names))
      g_string_append_printf (text, "%s ", _ (cautions[i].sentence));

  if (text->len == 0)
    return NULL;
  g_string_append (text, _ (advice));
  return g_string_free (g_steal_pointer (&text), FALSE);
}
