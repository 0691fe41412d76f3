/* demo-trace.c: the light that comes back along one line of sight, band by band
 *
 * A path is followed from the eye. The lamp's light is gathered at each place by one line to it,
 * also the sheen of all but the smoothest surfaces; a mirrored ray carries what else it meets, and
 * off the smoothest the lamp too. So each share of light is counted once.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "demo-trace.h"

#define MAX_BOUNCES 4
#define SMOOTH 0.15f /* GGX alpha below which the lamp is met by mirrored rays only */
#define LIFT 0.014f  /* off the surface, so that a ray does not meet where it starts */

static void
frame_of (Vec n, Vec *t, Vec *b)
{
  *t = vec_unit (vec_cross (fabsf (n.y) < 0.9f ? vec (0, 1, 0) : vec (1, 0, 0), n));
  *b = vec_cross (n, *t);
}

static Vec
around (Vec n, float sine, float cosine, float turn)
{
  Vec t, b;

  frame_of (n, &t, &b);
  return vec_unit (
    vec_along (vec_along (vec_scale (n, cosine), t, sine * cosf (turn)), b, sine * sinf (turn)));
}

static Vec
matt_direction (Vec n, float u, float v)
{
  return around (n, sqrtf (u), sqrtf (1.0f - u), 2.0f * (float) G_PI * v);
}

static float
smith (float cosine, float alpha)
{
  const float a2 = alpha * alpha;

  return 2.0f * cosine / (cosine + sqrtf (a2 + (1.0f - a2) * cosine * cosine));
}

/* Walter et al. 2007, Microfacet models for refraction through rough surfaces: GGX. Gives the
 * mirrored direction and what is left of the light, Fresnel's share apart; 0 when it goes inside.
 */
static float
mirror_direction (Vec n, Vec to_eye, float alpha, float u, float v, Vec *out, float *cos_half)
{
  const float cosine = sqrtf ((1.0f - u) / (1.0f + (alpha * alpha - 1.0f) * u));
  const Vec h =
    around (n, sqrtf (fmaxf (0.0f, 1.0f - cosine * cosine)), cosine, 2.0f * (float) G_PI * v);
  const float eye_h = vec_dot (to_eye, h), eye_n = fmaxf (vec_dot (to_eye, n), 0.02f);
  float out_n;

  *out = vec_along (vec_scale (h, 2.0f * eye_h), to_eye, -1.0f);
  out_n = vec_dot (*out, n);
  *cos_half = eye_h;
  if (eye_h <= 0.0f || out_n <= 0.0f)
    return 0.0f;
  return fminf (smith (eye_n, alpha) * smith (out_n, alpha) * eye_h / (eye_n * cosine), 4.0f);
}

static float
fresnel (float at_normal, float cosine)
{
  const float x = 1.0f - clampf (cosine, 0.0f, 1.0f);

  return at_normal + (1.0f - at_normal) * x * x * x * x * x; /* Schlick 1994 */
}

/* What the sheen adds to a matt white's answer to light from @to_lamp. */
static void
add_sheen (const DemoFinish *finish, Vec n, Vec to_eye, Vec to_lamp, float share,
           const DemoBands *through, DemoBands *sum)
{
  const Vec h = vec_unit (vec_add (to_eye, to_lamp));
  const float alpha = finish->roughness, a2 = alpha * alpha;
  const float eye_n = fmaxf (vec_dot (to_eye, n), 0.02f),
              lamp_n = fmaxf (vec_dot (to_lamp, n), 0.0f);
  const float half_n = vec_dot (n, h), eye_h = vec_dot (to_eye, h);
  const float root = half_n * half_n * (a2 - 1.0f) + 1.0f;
  const float spread = a2 / (root * root); /* pi D */
  const float left = share * spread * smith (eye_n, alpha) * smith (lamp_n, alpha) /
                     (4.0f * eye_n * fmaxf (lamp_n, 1e-3f));

  for (int b = 0; b <= DEMO_BANDS; b++)
    sum->band[b] += through->band[b] * left *
                    fresnel (finish->metal ? finish->diffuse.band[b] : finish->mirror, eye_h);
}

static void
gather_lamp (const DemoScene *scene, const DemoFinish *finish, gboolean matt, Vec place, Vec n,
             Vec to_eye, DemoSampler *sampler, const DemoBands *through, DemoBands *sum)
{
  float u, v, share;
  DemoBands reflected = *through;
  Vec point;

  demo_sampler_next (sampler, &u, &v);
  point = demo_lamp_point (&scene->lamp, u, v);
  share = demo_lamp_share (&scene->lamp, place, n, point);
  if (share <= 0.0f || demo_scene_blocked (scene, place, point))
    return;
  if (matt || !finish->metal)
    {
      demo_bands_multiply (&reflected, &finish->diffuse,
                           matt ? 1.0f : 1.0f - fresnel (finish->mirror, vec_dot (to_eye, n)));
      demo_bands_add (sum, &reflected, share);
    }
  if (!matt && finish->mirror > 0.0f && finish->roughness > SMOOTH)
    add_sheen (finish, n, to_eye, vec_unit (vec_sub (point, place)), share, through, sum);
}

/* Takes the path one surface further; FALSE where it ends. */
static gboolean
scatter (const DemoFinish *finish, Vec n, gboolean *matt, DemoSampler *sampler, Vec *direction,
         DemoBands *through)
{
  const Vec to_eye = vec_scale (*direction, -1.0f);
  const float share = *matt || finish->mirror <= 0.0f ? 0.0f : finish->metal ? 1.0f : 0.3f;
  float choice, unused, u, v, left, cos_half, through_surface;

  demo_sampler_next (sampler, &choice, &unused);
  demo_sampler_next (sampler, &u, &v);
  if (choice < share)
    {
      left = mirror_direction (n, to_eye, finish->roughness, u, v, direction, &cos_half);
      if (left <= 0.0f)
        return FALSE;
      for (int b = 0; b <= DEMO_BANDS; b++)
        through->band[b] *=
          left * fresnel (finish->metal ? finish->diffuse.band[b] : finish->mirror, cos_half) /
          share;
      return TRUE;
    }
  through_surface = !*matt ? 1.0f - fresnel (finish->mirror, vec_dot (to_eye, n)) : 1.0f;
  demo_bands_multiply (through, &finish->diffuse, through_surface / (1.0f - share));
  *direction = matt_direction (n, u, v);
  *matt = TRUE;
  return TRUE;
}

void
demo_trace (const DemoScene *scene, const DemoHit *first, Vec direction, DemoSampler *sampler,
            DemoBands *sum)
{
  DemoHit hit = *first;
  DemoBands through;
  gboolean matt =
    FALSE; /* after a matt bounce every surface counts as matt, which keeps sparks out */

  demo_bands_fill (&through, 1.0f);
  for (int bounce = 0; bounce < MAX_BOUNCES; bounce++)
    {
      DemoFinish finish;
      Vec n = hit.normal, place;
      gboolean lamp_seen;

      /* a normal that looks away from the eye is a rim of the lattice: turn it to the edge */
      if (vec_dot (n, direction) > -0.02f)
        n = vec_unit (vec_along (n, direction, -vec_dot (n, direction) - 0.02f));
      place = vec_along (hit.place, n, LIFT);
      demo_palette_finish_at (scene->palette, hit.material, hit.place, n, &finish);
      gather_lamp (scene, &finish, matt, place, n, vec_scale (direction, -1.0f), sampler, &through,
                   sum);
      lamp_seen = !matt && finish.mirror > 0.0f && finish.roughness <= SMOOTH;
      if (!scatter (&finish, n, &matt, sampler, &direction, &through))
        return;
      if (!demo_scene_meet (scene, place, direction, FALSE, &hit))
        {
          demo_bands_add (sum, &through,
                          demo_lamp_seen (&scene->lamp, place, direction, lamp_seen && !matt));
          return;
        }
    }
}
