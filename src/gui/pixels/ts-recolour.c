/* ts-recolour.c: pixels of the screen as a correction makes them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/pixels/ts-recolour.h"

#include "colour/ts-colour-convert.h"

#define GRID 33
#define N_NODES (GRID * GRID * GRID)

/* Corrected sRGB at each node, 0 to 255 with 7 more bits; red runs slowest. */
typedef struct
{
  guint16 node[N_NODES][3];
} Table;

typedef struct
{
  TsCorrection *correction;
  guint serial;
} Job;

struct _TsRecolour
{
  GObject parent_instance;

  TsCorrection *correction; /* owned, or NULL */
  Table *table;             /* owned, or NULL */
  guint serial;
  gboolean running;
};

static guint changed_signal;

G_DEFINE_FINAL_TYPE (TsRecolour, ts_recolour, G_TYPE_OBJECT)

static guint16
encode (double linear)
{
  return (guint16) (CLAMP (ts_srgb_encode (CLAMP (linear, 0.0, 1.0)), 0.0, 1.0) * 255.0 * 128.0 +
                    0.5);
}

static Table *
make_table (const TsCorrection *correction)
{
  Table *table = g_new (Table, 1);
  double linear[GRID];

  for (int i = 0; i < GRID; i++)
    linear[i] = ts_srgb_decode (i / (GRID - 1.0));
  for (int i = 0; i < N_NODES; i++)
    {
      TsRgb rgb = { linear[i / (GRID * GRID)], linear[i / GRID % GRID], linear[i % GRID] };
      TsRgb to = ts_rgb_from_xyz (ts_correction_apply (correction, ts_xyz_from_rgb (rgb)));

      table->node[i][0] = encode (to.r);
      table->node[i][1] = encode (to.g);
      table->node[i][2] = encode (to.b);
    }
  return table;
}

static void
job_free (gpointer data)
{
  Job *job = data;

  ts_correction_unref (job->correction);
  g_free (job);
}

static void
work (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  Job *job = task_data;

  g_task_return_pointer (task, make_table (job->correction), g_free);
}

static void start (TsRecolour *self);

static void
on_made (GObject *source, GAsyncResult *result, gpointer data)
{
  TsRecolour *self = TS_RECOLOUR (source);
  Job *job = g_task_get_task_data (G_TASK (result));
  g_autofree Table *table = g_task_propagate_pointer (G_TASK (result), NULL);

  self->running = FALSE;
  if (self->correction != NULL)
    {
      g_free (self->table);
      self->table = g_steal_pointer (&table);
      g_signal_emit (self, changed_signal, 0);
    }
  if (self->serial != job->serial && self->correction != NULL)
    start (self);
}

static void
start (TsRecolour *self)
{
  Job *job = g_new0 (Job, 1);
  g_autoptr (GTask) task = g_task_new (self, NULL, on_made, NULL);

  job->correction = ts_correction_ref (self->correction);
  job->serial = self->serial;
  self->running = TRUE;
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, work);
}

static void
ts_recolour_finalize (GObject *object)
{
  TsRecolour *self = TS_RECOLOUR (object);

  g_clear_pointer (&self->correction, ts_correction_unref);
  g_free (self->table);
  G_OBJECT_CLASS (ts_recolour_parent_class)->finalize (object);
}

static void
ts_recolour_class_init (TsRecolourClass *class)
{
  G_OBJECT_CLASS (class)->finalize = ts_recolour_finalize;
  /* Pixels come out as others than before. */
  changed_signal = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                 NULL, NULL, G_TYPE_NONE, 0);
}

static void
ts_recolour_init (TsRecolour *self)
{
}

/**
 * ts_recolour_new:
 *
 * Returns: (transfer full): one that changes nothing
 */
TsRecolour *
ts_recolour_new (void)
{
  return g_object_new (TS_TYPE_RECOLOUR, NULL);
}

/**
 * ts_recolour_set_correction:
 * @self: a table
 * @correction: (nullable): what the pixels are to be corrected by; %NULL changes nothing
 *
 * Takes some hundredths of a second on another thread; the table before serves until then.
 */
void
ts_recolour_set_correction (TsRecolour *self, TsCorrection *correction)
{
  g_return_if_fail (TS_IS_RECOLOUR (self));

  if (self->correction == correction)
    return;
  g_clear_pointer (&self->correction, ts_correction_unref);
  self->serial++;
  if (correction == NULL)
    {
      g_clear_pointer (&self->table, g_free);
      g_signal_emit (self, changed_signal, 0);
      return;
    }
  self->correction = ts_correction_ref (correction);
  if (!self->running)
    start (self);
}

/**
 * ts_recolour_is_ready:
 * @self: a table
 *
 * Returns: whether it changes anything
 */
gboolean
ts_recolour_is_ready (TsRecolour *self)
{
  g_return_val_if_fail (TS_IS_RECOLOUR (self), FALSE);

  return self->table != NULL;
}

/* Of the tetrahedron that the colour lies in: from its darkest node to its lightest, the channels
 * in falling order of what is left (Kasson, Plouffe and Nin 1993). */
static guint32
look_up (const Table *table, guint32 word)
{
  static const int stride[3] = { GRID * GRID, GRID, 1 };
  int rest[3], order[3] = { 0, 1, 2 }, at = 0, left = 256;
  int sum[3] = { 0, 0, 0 };
  guint32 out = 0;

  for (int c = 0; c < 3; c++)
    {
      int v = (int) (word >> (16 - 8 * c) & 0xff) * (GRID - 1) * 256 / 255;
      int node = MIN (v >> 8, GRID - 2);

      rest[c] = v - node * 256;
      at += node * stride[c];
    }
  for (int i = 0; i < 2; i++)
    for (int k = 0; k < 2 - i; k++)
      if (rest[order[k]] < rest[order[k + 1]])
        {
          int other = order[k];

          order[k] = order[k + 1];
          order[k + 1] = other;
        }
  for (int i = 0; i < 4; i++)
    {
      int next = i < 3 ? rest[order[i]] : 0;

      for (int c = 0; c < 3; c++)
        sum[c] += (left - next) * table->node[at][c];
      left = next;
      if (i < 3)
        at += left > 0 ? stride[order[i]] : 0;
    }
  for (int c = 0; c < 3; c++)
    out = out << 8 | (guint32) ((sum[c] + (1 << 14)) >> 15);
  return out;
}

/**
 * ts_recolour_apply:
 * @self: a table that is ready
 * @words: (array length=n): 0x00RRGGBB, sRGB, corrected in place
 * @n: number of words
 *
 * Neighbours are often alike, so the last answer is kept.
 */
void
ts_recolour_apply (TsRecolour *self, guint32 *words, gsize n)
{
  guint32 last, answer;

  g_return_if_fail (TS_IS_RECOLOUR (self) && self->table != NULL);

  if (n == 0)
    return;
  last = words[0];
  answer = look_up (self->table, last);
  for (gsize i = 0; i < n; i++)
    {
      if (words[i] != last)
        {
          last = words[i];
          answer = look_up (self->table, last);
        }
      words[i] = answer;
    }
}
