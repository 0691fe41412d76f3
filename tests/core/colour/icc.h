/* icc.h: ICC profiles whose answers are known, made by lcms2 for the tests
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>
#include <lcms2.h>

/* Takes @profile: its bytes, with @version in the head. */
GBytes *icc_take  (cmsHPROFILE     profile,
                   double          version);
GBytes *icc_srgb  (double          version);
/* Primaries of ROMM RGB, white x 0.3457 y 0.3585; gamma 1.8 as a table of @entries, or for 0 as a
 * number. */
GBytes *icc_romm  (double          version,
                   guint           entries);
GBytes *icc_grey  (double          gamma);
/* L*, a*, b* that each channel, from 0 to 1, adds to the first row: a table interpolates that
 * exactly. */
typedef double IccPlane[5][3];

extern const IccPlane icc_inks;
extern const IccPlane icc_lights;

/* @plane stands in the table for relative colorimetric; the perceptual one is mid grey throughout. */
GBytes *icc_plane (const IccPlane  plane,
                   guint           channels,
                   double          version);
