/* ts-recipe-index.c: where in colour the mixes of a set lie, by boxes around small groups of them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every mix is coloured once, in single precision, many at a time; what is kept is a box of bytes
 * around each group of neighbouring shares of each choice of paints.
 */
#include "recipes/ts-recipe-index-private.h"

#include <math.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

#define MIXES_A_GROUP 5
#define MOST_BYTES (400 * 1000 * 1000) /* 120 paints, 3 in a mix, 10 parts take 41 MB */
#define MOST_MIXES 2e9                 /* beyond, the first answer would take too long */
#define FAINT 1e-6f                    /* of the strongest band; two such paints are no mix */
#define LEAST_K 1e-18f

const float ts_index_shift[3] = { 0.0f, 90.0f, 80.0f };
const float ts_index_scale[3] = { 2.5f, 1.35f, 1.25f };

/* Where the shares of a mix lie among all: the logarithm of each part against their mean. */
static double
place_of (const TsParts *parts, guint n_paints, guint paint)
{
  double sum = 0.0;

  for (guint i = 0; i < n_paints; i++)
    sum += log (parts->parts[i]);
  return log (parts->parts[paint]) - sum / n_paints;
}

typedef struct
{
  guint n_paints, paint;
} Order;

static int
compare_places (gconstpointer one, gconstpointer other, gpointer data)
{
  const Order *order = data;
  double first = place_of (one, order->n_paints, order->paint);
  double second = place_of (other, order->n_paints, order->paint);

  if (first != second)
    return first < second ? -1 : 1;
  return memcmp (one, other, sizeof (TsParts));
}

static guint
widest_direction (const TsParts *parts, guint n, guint n_paints)
{
  guint widest = 0;
  double most = -1.0;

  for (guint paint = 0; paint < n_paints; paint++)
    {
      double low = G_MAXDOUBLE, high = -G_MAXDOUBLE;

      for (guint i = 0; i < n; i++)
        {
          double place = place_of (&parts[i], n_paints, paint);

          low = MIN (low, place);
          high = MAX (high, place);
        }
      if (high - low > most)
        {
          most = high - low;
          widest = paint;
        }
    }
  return widest;
}

/* Halves the shares across their widest direction until each group stands alone. */
static void
group_shares (TsParts *parts, guint n, guint n_paints, guint n_groups, guint start, guint *first)
{
  Order order = { n_paints, widest_direction (parts, n, n_paints) };
  guint left_groups = n_groups / 2;
  guint left = n * left_groups / MAX (1, n_groups);

  if (n_groups <= 1)
    {
      *first = start;
      return;
    }
  g_qsort_with_data (parts, (gint) n, sizeof *parts, compare_places, &order);
  group_shares (parts, left, n_paints, left_groups, start, first);
  group_shares (parts + left, n - left, n_paints, n_groups - left_groups, start + left,
                first + left_groups);
}

static void
fill_shares (TsIndexLevel *level)
{
  level->first_pack = g_new (guint, level->n_groups + 1);
  level->first_pack[0] = 0;
  for (guint g = 0; g < level->n_groups; g++)
    level->first_pack[g + 1] =
      level->first_pack[g] + (level->first[g + 1] - level->first[g] + TS_PACK - 1) / TS_PACK;

  level->shares = g_new (float, level->first_pack[level->n_groups] * level->n_paints * TS_PACK);
  for (guint g = 0; g < level->n_groups; g++)
    for (guint pack = level->first_pack[g]; pack < level->first_pack[g + 1]; pack++)
      for (guint i = 0; i < TS_PACK; i++)
        {
          /* A pack that is not full repeats the last mix of its group. */
          guint at = level->first[g] + (pack - level->first_pack[g]) * TS_PACK + i;
          const TsParts *parts =
            &g_array_index (level->parts, TsParts, MIN (at, level->first[g + 1] - 1));

          for (guint p = 0; p < level->n_paints; p++)
            level->shares[(pack * level->n_paints + p) * TS_PACK + i] = parts->parts[p];
        }
}

/* Choices of @n_paints of @n rows, as far as they matter: saturates far above MOST_MIXES. */
static double
count_choices (guint n, guint n_paints)
{
  double count = 1.0;

  for (guint i = 0; i < n_paints; i++)
    count = count * (n - i) / (i + 1.0);
  return count;
}

/* Choices that hold every paint needed. */
static double
count_families (const TsRecipeIndex *self, guint n_paints)
{
  if (n_paints < self->n_needed)
    return 0.0;
  return count_choices (self->rows->n_paints - self->n_needed, n_paints - self->n_needed);
}

/* Sets up the groups; FALSE where there are too many mixes to keep. */
static gboolean
plan_level (const TsRecipeIndex *self, TsIndexLevel *level, guint n_paints, guint max_parts,
            gsize *left)
{
  double families = count_families (self, n_paints);
  double groups;

  level->n_paints = n_paints;
  level->parts = ts_parts_table_new (n_paints, max_parts);
  groups = ceil ((double) level->parts->len / MIXES_A_GROUP);
  if (families < 1.0)
    g_array_set_size (level->parts, 0); /* no mix can be such */
  groups =
    MIN (groups, floor (((double) *left / MAX (1.0, families) - 6.0 - sizeof *level->rows) / 6.0));
  if (!(families * level->parts->len <= MOST_MIXES && groups >= 1.0))
    return FALSE; /* no shares at all give no group either */

  level->n_groups = (guint) groups;
  level->first = g_new (guint, level->n_groups + 1);
  level->first[level->n_groups] = level->parts->len;
  group_shares ((TsParts *) level->parts->data, level->parts->len, n_paints, level->n_groups, 0,
                level->first);
  fill_shares (level);
  *left -= (gsize) (families * (6.0 * groups + 6.0 + sizeof *level->rows));
  return TRUE;
}

static void
clear_level (TsIndexLevel *level)
{
  g_clear_pointer (&level->parts, g_array_unref);
  g_clear_pointer (&level->first, g_free);
  g_clear_pointer (&level->first_pack, g_free);
  g_clear_pointer (&level->shares, g_free);
  g_clear_pointer (&level->rows, g_free);
  g_clear_pointer (&level->family_box, g_free);
  g_clear_pointer (&level->group_box, g_free);
}

void
ts_recipe_index_free (TsRecipeIndex *self)
{
  if (self == NULL)
    return;
  for (guint n = 0; n <= TS_PARTS_MAX_PAINTS; n++)
    clear_level (&self->level[n]);
  g_free (self->K);
  g_free (self->S);
  g_free (self->paint_K);
  g_free (self->paint_S);
  g_free (self);
}

static void
fill_optics (TsRecipeIndex *self)
{
  static const double white[3] = { TS_D50_X, 1.0, TS_D50_Z };
  const double (*weights)[3] = ts_light_get_weights (TS_LIGHT_D50);
  TsSurfaceReflection surface = self->rows->surface;
  double scale = (1.0 - surface.k1) * (1.0 - surface.k2);

  for (guint c = 0; c < 3; c++)
    {
      double sum = 0.0;

      for (guint b = 0; b < TS_BANDS; b++)
        {
          sum += weights[b][c];
          self->optics.weight[b][c] = (float) (scale * weights[b][c] / white[c]);
        }
      self->optics.base[c] = (float) (surface.k1 * sum / white[c]);
    }
  self->optics.out = (float) (1.0 - surface.k2);
}

static double
find_strongest (const TsMixRows *rows)
{
  double most = 0.0;

  for (guint i = 0; i < rows->n_paints; i++)
    for (guint b = 0; b < TS_BANDS; b++)
      most = MAX (most, MAX (rows->K[i][b], rows->S[i][b]));
  return most;
}

/* Single precision will do unless two paints are so faint that their mix is next to nothing. */
static gboolean
fill_paints (TsRecipeIndex *self)
{
  const TsMixRows *rows = self->rows;
  double most = find_strongest (rows);
  guint n_faint = 0;

  self->stride = (rows->n_paints + TS_PACK - 1) / TS_PACK * TS_PACK;
  self->K = g_new (float, TS_BANDS * self->stride);
  self->S = g_new (float, TS_BANDS * self->stride);
  self->paint_K = g_malloc_n (rows->n_paints, sizeof *self->paint_K);
  self->paint_S = g_malloc_n (rows->n_paints, sizeof *self->paint_S);
  for (gsize i = 0; i < TS_BANDS * self->stride; i++)
    self->K[i] = self->S[i] = 1.0f;
  for (guint i = 0; i < rows->n_paints; i++)
    {
      gboolean faint = FALSE;

      for (guint b = 0; b < TS_BANDS; b++)
        {
          float K = MAX (LEAST_K, (float) (rows->K[i][b] / most));
          float S = (float) (rows->S[i][b] / most);

          faint |= !(K + S >= FAINT);
          self->paint_K[i][b] = self->K[b * self->stride + i] = K;
          self->paint_S[i][b] = self->S[b * self->stride + i] = S;
        }
      n_faint += faint ? 1 : 0;
    }
  return most > 0.0 && n_faint <= 1;
}

/* What one prefix, the first paints of a family, works with: all families that end in each row. */
typedef struct
{
  const TsRecipeIndex *index;
  TsIndexLevel *level;
  guint n_done; /* families */
  float *lab[3], *low[3], *high[3], *family_low[3], *family_high[3];
  guint8 *bytes;
} Builder;

static Builder *
builder_new (const TsRecipeIndex *index)
{
  Builder *self = g_new0 (Builder, 1);

  self->index = index;
  for (guint c = 0; c < 3; c++)
    {
      self->lab[c] = g_new (float, index->stride);
      self->low[c] = g_new (float, index->stride);
      self->high[c] = g_new (float, index->stride);
      self->family_low[c] = g_new (float, index->stride);
      self->family_high[c] = g_new (float, index->stride);
    }
  self->bytes = g_new (guint8, index->stride);
  return self;
}

static void
builder_free (Builder *self)
{
  for (guint c = 0; c < 3; c++)
    {
      g_free (self->lab[c]);
      g_free (self->low[c]);
      g_free (self->high[c]);
      g_free (self->family_low[c]);
      g_free (self->family_high[c]);
    }
  g_free (self->bytes);
  g_free (self);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Builder, builder_free)

static void
reset (float *const low[3], float *const high[3], guint n)
{
  for (guint c = 0; c < 3; c++)
    for (guint i = 0; i < n; i++)
      {
        low[c][i] = G_MAXFLOAT;
        high[c][i] = -G_MAXFLOAT;
      }
}

/* Bytes of run @run (low L, a, b, high L, a, b) of the boxes between @low and @high. */
static void
pack_run (Builder *self, guint run, float *const low[3], float *const high[3], guint n)
{
  guint c = run % 3;
  float margin = run < 3 ? -TS_INDEX_MARGIN : TS_INDEX_MARGIN;

  ts_index_kernel_pack (run < 3 ? low[c] : high[c], ts_index_shift[c] + margin, ts_index_scale[c],
                        self->bytes, n, self->index->wide);
}

void
ts_index_mix_prefix (const TsRecipeIndex *self, const guint *prefix, guint n_prefix,
                     const TsParts *parts, float *K, float *S)
{
  memset (K, 0, TS_BANDS * sizeof *K);
  memset (S, 0, TS_BANDS * sizeof *S);
  for (guint p = 0; p < n_prefix; p++)
    {
      float share = (float) parts->parts[p] / (float) parts->parts[n_prefix];

      ts_index_kernel_add_share (share, self->paint_K[prefix[p]], K);
      ts_index_kernel_add_share (share, self->paint_S[prefix[p]], S);
    }
}

guint
ts_index_count_needed (const TsRecipeIndex *self, const guint *rows, guint n)
{
  guint count = 0;

  for (guint i = 0; i < n; i++)
    count += self->needed[rows[i]] ? 1 : 0;
  return count;
}

/* Ranges of one group of shares, for the last paints from @start on. */
static void
colour_group (Builder *self, const guint *prefix, guint group, guint start)
{
  const TsRecipeIndex *index = self->index;
  guint n = (guint) index->stride - start, first = self->level->first[group];

  for (guint m = first; m < self->level->first[group + 1]; m++)
    {
      float K[TS_BANDS], S[TS_BANDS];

      ts_index_mix_prefix (index, prefix, self->level->n_paints - 1,
                           &g_array_index (self->level->parts, TsParts, m), K, S);
      ts_index_kernel_add (&index->optics, K, S, index->K + start, index->S + start, index->stride,
                           n, self->lab, index->wide);
      for (guint c = 0; c < 3; c++)
        if (m == first)
          {
            memcpy (self->low[c], self->lab[c], n * sizeof (float));
            memcpy (self->high[c], self->lab[c], n * sizeof (float));
          }
        else
          ts_index_kernel_widen (self->lab[c], self->low[c], self->high[c], n, index->wide);
    }
  for (guint c = 0; c < 3; c++)
    {
      ts_index_kernel_widen (self->low[c], self->family_low[c], self->family_high[c], n,
                             index->wide);
      ts_index_kernel_widen (self->high[c], self->family_low[c], self->family_high[c], n,
                             index->wide);
    }
}

/* The families that @prefix begins, as places in the level; -1 where a needed paint is missing. */
static guint
number_families (Builder *self, const guint *prefix, guint start, gint32 *place)
{
  guint last = self->level->n_paints - 1;
  guint n = (guint) self->index->stride - start;
  guint held = ts_index_count_needed (self->index, prefix, last);
  guint count = 0;

  for (guint i = 0; i < n; i++)
    {
      guint row = start + i;
      gboolean counts = row > prefix[last - 1] && row < self->index->rows->n_paints &&
                        held + (self->index->needed[row] ? 1 : 0) == self->index->n_needed;

      place[i] = counts ? (gint32) (self->n_done + count) : -1;
      if (!counts)
        continue;
      for (guint p = 0; p < last; p++)
        self->level->rows[place[i]][p] = (guint16) prefix[p];
      self->level->rows[place[i]][last] = (guint16) row;
      count++;
    }
  return count;
}

static void
add_prefix (Builder *self, const guint *prefix, gint32 *place)
{
  TsIndexLevel *level = self->level;
  guint start = (prefix[level->n_paints - 2] + 1) / TS_PACK * TS_PACK;
  guint n = (guint) self->index->stride - start;
  guint count = number_families (self, prefix, start, place);

  if (count == 0)
    return;
  reset (self->family_low, self->family_high, n);
  for (guint g = 0; g < level->n_groups; g++)
    {
      colour_group (self, prefix, g, start);
      for (guint run = 0; run < 6; run++)
        {
          guint8 *box = level->group_box + ((gsize) self->n_done * 6 + run) * level->n_groups + g;

          pack_run (self, run, self->low, self->high, n);
          for (guint i = 0; i < n; i++)
            if (place[i] >= 0)
              {
                *box = self->bytes[i];
                box += 6 * level->n_groups;
              }
        }
    }
  for (guint run = 0; run < 6; run++)
    {
      pack_run (self, run, self->family_low, self->family_high, n);
      for (guint i = 0; i < n; i++)
        if (place[i] >= 0)
          level->family_box[(gsize) run * level->stride + (guint) place[i]] = self->bytes[i];
    }
  self->n_done += count;
}

gboolean
ts_index_next_choice (guint *rows, guint n, guint n_rows)
{
  for (guint i = n; i-- > 0;)
    if (rows[i] + (n - i) < n_rows)
      {
        rows[i]++;
        for (guint j = i + 1; j < n; j++)
          rows[j] = rows[j - 1] + 1;
        return TRUE;
      }
  return FALSE;
}

/* Every one will be written. Large pages are given back sooner: a search that is stopped ends at
 * once. */
static guint8 *
boxes_new (gsize n)
{
  guint8 *boxes = g_malloc (n);

#ifdef MADV_HUGEPAGE
  gsize page = (gsize) sysconf (_SC_PAGESIZE);
  gsize first = ((gsize) boxes + page - 1) / page * page, end = ((gsize) boxes + n) / page * page;

  if (end > first)
    madvise ((void *) first, end - first, MADV_HUGEPAGE);
#endif
  return boxes;
}

static gboolean
build_level (Builder *self, TsIndexLevel *level, GCancellable *cancellable, GError **error)
{
  guint n_rows = self->index->rows->n_paints;
  g_autofree gint32 *place = g_new (gint32, self->index->stride);
  guint prefix[TS_PARTS_MAX_PAINTS] = { 0, 1, 2, 3 };

  self->level = level;
  self->n_done = 0;
  level->stride = (guint) count_families (self->index, level->n_paints);
  level->rows = g_malloc_n (level->stride, sizeof *level->rows);
  level->family_box = boxes_new ((gsize) level->stride * 6);
  level->group_box = boxes_new ((gsize) level->stride * 6 * level->n_groups);
  do
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      add_prefix (self, prefix, place);
    }
  while (ts_index_next_choice (prefix, level->n_paints - 1, n_rows - 1));
  level->n_families = self->n_done;
  level->is_boxed = TRUE;
  return TRUE;
}

/**
 * ts_recipe_index_new:
 * @rows: the paints, which must outlive the index
 * @needed: (array): of each row, whether every mix must hold it; must outlive the index
 * @max_paints: most paints in a mix
 * @max_parts: most parts
 * @cancellable: (nullable): to stop it
 * @error: return location for an error, or %NULL
 *
 * Colours every mix once, some 12 ns each with AVX2. Holds 400 MB at most; mixes
 * of more paints than fit are coloured anew by each search.
 *
 * Returns: (transfer full) (nullable): the index, or %NULL with %G_IO_ERROR_CANCELLED
 */
TsRecipeIndex *
ts_recipe_index_new (const TsMixRows *rows, const gboolean *needed, guint max_paints,
                     guint max_parts, GCancellable *cancellable, GError **error)
{
  g_autoptr (TsRecipeIndex) self = g_new0 (TsRecipeIndex, 1);
  g_autoptr (Builder) builder = NULL;
  gsize left = MOST_BYTES;

  self->rows = rows;
  self->needed = needed;
  self->most = 1;
  self->wide = ts_index_kernel_has_avx2 ();
  for (guint i = 0; i < rows->n_paints; i++)
    self->n_needed += needed[i] ? 1 : 0;
  fill_optics (self);
  if (!fill_paints (self))
    return g_steal_pointer (&self);

  builder = builder_new (self);
  self->most = MIN (max_paints, rows->n_paints);
  for (guint n = 2; n <= self->most; n++)
    {
      TsIndexLevel *level = &self->level[n];

      if (!plan_level (self, level, n, max_parts, &left))
        continue;
      if (!build_level (builder, level, cancellable, error))
        return NULL;
    }
  return g_steal_pointer (&self);
}

/**
 * ts_recipe_index_get_most_paints:
 * @self: an index
 *
 * Returns: mixes of 2 to this many paints are searched by it; 1 where the paints are so faint that
 *   single precision cannot be trusted
 */
guint
ts_recipe_index_get_most_paints (const TsRecipeIndex *self)
{
  return self->most;
}

/**
 * ts_recipe_index_get_size:
 * @self: an index
 *
 * Returns: bytes that its boxes take
 */
gsize
ts_recipe_index_get_size (const TsRecipeIndex *self)
{
  gsize size = 0;

  for (guint n = 2; n <= self->most; n++)
    size += (gsize) self->level[n].stride *
            (6 + 6 * self->level[n].n_groups + sizeof *self->level[n].rows);
  return size;
}
