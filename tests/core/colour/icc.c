/* icc.c: ICC profiles whose answers are known, made by lcms2 for the tests
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "colour/icc.h"

const IccPlane icc_inks = {
  { 100.0, 0.0, 0.0 },  { -20.0, -30.0, -40.0 }, { -25.0, 50.0, -5.0 },
  { -5.0, -5.0, 60.0 }, { -40.0, 0.0, 0.0 },
};
const IccPlane icc_lights = {
  { 5.0, 0.0, 0.0 },
  { 30.0, 60.0, 40.0 },
  { 55.0, -70.0, 30.0 },
  { 10.0, 10.0, -70.0 },
};

typedef struct
{
  const double (*plane)[3];
  guint channels;
  gboolean version_4;
} Sampler;

GBytes *
icc_take (cmsHPROFILE profile, double version)
{
  cmsUInt32Number size = 0;
  void *data;

  g_assert_nonnull (profile);
  cmsSetProfileVersion (profile, version);
  g_assert_true (cmsSaveProfileToMem (profile, NULL, &size));
  data = g_malloc (size);
  g_assert_true (cmsSaveProfileToMem (profile, data, &size));
  cmsCloseProfile (profile);
  return g_bytes_new_take (data, size);
}

GBytes *
icc_srgb (double version)
{
  return icc_take (cmsCreate_sRGBProfile (), version);
}

GBytes *
icc_romm (double version, guint entries)
{
  cmsCIExyY white = { 0.3457, 0.3585, 1.0 };
  cmsCIExyYTRIPLE primaries = { { 0.7347, 0.2653, 1.0 },
                                { 0.1596, 0.8404, 1.0 },
                                { 0.0366, 0.0001, 1.0 } };
  cmsToneCurve *gamma = cmsBuildGamma (NULL, 1.8);
  cmsToneCurve *curve = gamma;
  cmsHPROFILE profile;

  if (entries > 0)
    {
      g_autofree cmsUInt16Number *table = g_new (cmsUInt16Number, entries);

      for (guint i = 0; i < entries; i++)
        table[i] =
          cmsEvalToneCurve16 (gamma, (cmsUInt16Number) (i * 65535.0 / (entries - 1) + 0.5));
      curve = cmsBuildTabulatedToneCurve16 (NULL, entries, table);
      cmsFreeToneCurve (gamma);
    }
  profile = cmsCreateRGBProfile (&white, &primaries, (cmsToneCurve *[]){ curve, curve, curve });
  cmsFreeToneCurve (curve);
  return icc_take (profile, version);
}

GBytes *
icc_grey (double gamma)
{
  cmsToneCurve *curve = cmsBuildGamma (NULL, gamma);
  cmsHPROFILE profile = cmsCreateGrayProfile (cmsD50_xyY (), curve);

  cmsFreeToneCurve (curve);
  return icc_take (profile, 2.4);
}

static cmsInt32Number
sample_plane (const cmsUInt16Number in[], cmsUInt16Number out[], void *cargo)
{
  const Sampler *sampler = cargo;
  cmsCIELab lab = { 50.0, 0.0, 0.0 };

  if (sampler->plane != NULL)
    lab = (cmsCIELab){ sampler->plane[0][0], sampler->plane[0][1], sampler->plane[0][2] };
  for (guint c = 0; sampler->plane != NULL && c < sampler->channels; c++)
    {
      lab.L += sampler->plane[c + 1][0] * in[c] / 65535.0;
      lab.a += sampler->plane[c + 1][1] * in[c] / 65535.0;
      lab.b += sampler->plane[c + 1][2] * in[c] / 65535.0;
    }
  if (sampler->version_4)
    cmsFloat2LabEncoded (out, &lab);
  else
    cmsFloat2LabEncodedV2 (out, &lab);
  return TRUE;
}

static void
write_table (cmsHPROFILE profile, cmsTagSignature tag, Sampler *sampler)
{
  cmsPipeline *pipeline = cmsPipelineAlloc (NULL, sampler->channels, 3);
  cmsToneCurve *line = cmsBuildGamma (NULL, 1.0);
  cmsToneCurve *lines[4] = { line, line, line, line };
  cmsStage *table = cmsStageAllocCLut16bit (NULL, 5, sampler->channels, 3, NULL);

  g_assert_true (cmsStageSampleCLut16bit (table, sample_plane, sampler, 0));
  cmsPipelineInsertStage (pipeline, cmsAT_END,
                          cmsStageAllocToneCurves (NULL, sampler->channels, lines));
  cmsPipelineInsertStage (pipeline, cmsAT_END, table);
  cmsPipelineInsertStage (pipeline, cmsAT_END, cmsStageAllocToneCurves (NULL, 3, lines));
  g_assert_true (cmsWriteTag (profile, tag, pipeline));
  cmsFreeToneCurve (line);
  cmsPipelineFree (pipeline);
}

GBytes *
icc_plane (const IccPlane plane, guint channels, double version)
{
  cmsHPROFILE profile = cmsCreateProfilePlaceholder (NULL);
  Sampler sampler = { NULL, channels, version >= 4.0 };

  cmsSetProfileVersion (profile, version);
  cmsSetDeviceClass (profile, cmsSigOutputClass);
  cmsSetColorSpace (profile, channels == 4 ? cmsSigCmykData : cmsSigRgbData);
  cmsSetPCS (profile, cmsSigLabData);
  write_table (profile, cmsSigAToB0Tag, &sampler);
  sampler.plane = plane;
  write_table (profile, cmsSigAToB1Tag, &sampler);
  return icc_take (profile, version);
}
