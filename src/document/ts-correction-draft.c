/* ts-correction-draft.c: the correction of one photograph while the painter works on it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-correction-draft-private.h"

#include <string.h>

/* L* of the usual cards: 18 % grey; white and black by common practice, no source. */
#define GREY_LIGHTNESS 49.5
#define WHITE_LIGHTNESS 96.0
#define BLACK_LIGHTNESS 20.0
/* A card given by its lightness alone is taken for the kind it is nearest to. */
#define BLACK_BELOW 33.0
#define WHITE_ABOVE 75.0

G_DEFINE_FINAL_TYPE (TsCorrectionDraft, ts_correction_draft, G_TYPE_OBJECT)

static guint changed_signal;

void
ts_correction_draft_changed (TsCorrectionDraft *self)
{
  g_signal_emit (self, changed_signal, 0);
}

static TsDraftDisc
name_card (double lightness)
{
  return lightness < BLACK_BELOW   ? TS_DISC_BLACK
         : lightness > WHITE_ABOVE ? TS_DISC_WHITE
                                   : TS_DISC_GREY;
}

/* Where two cards are of a kind the second takes a place that is free; a fourth has none. */
static void
take_card (TsCorrectionDraft *self, TsCardPlace card)
{
  TsDraftDisc disc = name_card (card.lightness);

  if (!(card.radius > 0.0))
    return;
  for (guint i = TS_DISC_GREY; self->disc[disc].radius > 0.0 && i <= TS_DISC_BLACK; i++)
    disc = self->disc[i].radius > 0.0 ? disc : (TsDraftDisc) i;
  self->disc[disc] = card;
}

static void
reset (TsCorrectionDraft *self)
{
  static const double lightness[TS_N_DISCS] = { GREY_LIGHTNESS, WHITE_LIGHTNESS, BLACK_LIGHTNESS,
                                                GREY_LIGHTNESS, GREY_LIGHTNESS };

  for (guint i = 0; i < TS_N_DISCS; i++)
    self->disc[i] = (TsCardPlace){ .lightness = lightness[i] };
  self->has_corners = FALSE;
  self->use_guess = FALSE;
  self->aim = TS_DISC_GREY;
  self->choice = TS_DRAFT_NONE;
  g_clear_pointer (&self->source, g_free);
  g_clear_pointer (&self->chart, g_free);
  self->chart = g_strdup ("later");
}

static void
read_chart (TsCorrectionDraft *self, const TsCorrectionSettings *settings)
{
  if (settings->chart == NULL)
    return;
  g_free (self->chart);
  self->chart = g_strdup (settings->chart);
  for (guint i = 0; i < 4; i++)
    self->corner[i] = (TsPoint){ settings->corner[i][0], settings->corner[i][1] };
  self->has_corners = TRUE;
}

static void
read_settings (TsCorrectionDraft *self, const TsCorrectionSettings *settings)
{
  reset (self);
  if (settings->source != NULL)
    {
      self->choice = TS_DRAFT_OTHER;
      self->source = g_strdup (settings->source);
      self->aim = TS_DISC_HERE;
      self->disc[TS_DISC_THERE] = settings->match_there;
      self->disc[TS_DISC_HERE] = settings->match_here;
      return;
    }
  read_chart (self, settings);
  take_card (self, (TsCardPlace){ settings->card_x, settings->card_y, settings->card_radius,
                                  settings->card_lightness });
  for (guint i = 0; i < settings->n_more_cards; i++)
    take_card (self, settings->more_card[i]);
  self->use_guess = settings->kind == TS_CORRECTION_GUESS;
  if (settings->kind == TS_CORRECTION_CHART)
    self->choice = TS_DRAFT_CHART;
  else if (settings->kind == TS_CORRECTION_CARD)
    self->choice = TS_DRAFT_CARD;
}

static const TsCorrectionSettings *
get_planned (TsCorrectionDraft *self)
{
  const TsPlan *plan = ts_document_get_plan (self->document);

  if (plan == NULL || self->picture >= plan->pictures->len ||
      g_strcmp0 (ts_plan_get_picture (plan, self->picture)->path, self->path) != 0)
    return NULL;
  return &ts_plan_get_picture (plan, self->picture)->correction;
}

/* A step back may have corrected the photograph another way. */
static void
on_plan_changed (TsCorrectionDraft *self)
{
  const TsCorrectionSettings *planned = get_planned (self);

  if (planned == NULL || ts_correction_settings_equal (planned, &self->base))
    return;
  ts_correction_settings_clear (&self->base);
  ts_correction_settings_copy (&self->base, planned);
  read_settings (self, planned);
  ts_correction_draft_wish (self, TRUE);
}

static void
ts_correction_draft_finalize (GObject *object)
{
  TsCorrectionDraft *self = TS_CORRECTION_DRAFT (object);

  g_object_unref (self->document);
  g_free (self->path);
  g_free (self->chart);
  g_free (self->source);
  g_free (self->fault);
  g_clear_pointer (&self->correction, ts_correction_unref);
  ts_correction_settings_clear (&self->base);
  G_OBJECT_CLASS (ts_correction_draft_parent_class)->finalize (object);
}

static void
ts_correction_draft_class_init (TsCorrectionDraftClass *class)
{
  G_OBJECT_CLASS (class)->finalize = ts_correction_draft_finalize;
  /* Something of it is another than before. */
  changed_signal = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                 NULL, NULL, G_TYPE_NONE, 0);
}

static void
ts_correction_draft_init (TsCorrectionDraft *self)
{
  reset (self);
}

/**
 * ts_correction_draft_new:
 * @document: a document with a plan
 * @picture: index of one of its pictures
 *
 * Begins with what the plan has.
 *
 * Returns: (transfer full): a draft
 */
TsCorrectionDraft *
ts_correction_draft_new (TsDocument *document, guint picture)
{
  TsCorrectionDraft *self = g_object_new (TS_TYPE_CORRECTION_DRAFT, NULL);
  const TsPicture *of = ts_plan_get_picture (ts_document_get_plan (document), picture);

  self->document = g_object_ref (document);
  self->picture = picture;
  self->path = g_strdup (of->path);
  ts_correction_settings_copy (&self->base, &of->correction);
  read_settings (self, &of->correction);
  g_signal_connect_object (document, "plan-changed", G_CALLBACK (on_plan_changed), self,
                           G_CONNECT_SWAPPED);
  ts_correction_draft_guess (self);
  ts_correction_draft_wish (self, TRUE);
  return self;
}

/* The cards that are laid: grey first, since it alone gives the whole light. */
static gboolean
compile_cards (TsCorrectionDraft *self, TsCorrectionSettings *settings)
{
  guint n = 0;

  settings->kind = TS_CORRECTION_CARD;
  for (guint i = TS_DISC_GREY; i <= TS_DISC_BLACK; i++)
    {
      const TsCardPlace *card = &self->disc[i];

      if (!(card->radius > 0.0))
        continue;
      if (n++ > 0)
        {
          settings->more_card[settings->n_more_cards++] = *card;
          continue;
        }
      settings->card_x = card->x;
      settings->card_y = card->y;
      settings->card_radius = card->radius;
      settings->card_lightness = card->lightness;
    }
  return n > 0;
}

static gboolean
compile_other (TsCorrectionDraft *self, TsCorrectionSettings *settings)
{
  const TsPlan *plan = ts_document_get_plan (self->document);
  int source = ts_correction_draft_get_source (self);

  if (source >= 0)
    ts_correction_settings_copy (settings, &ts_plan_get_picture (plan, (guint) source)->correction);
  else if (self->base.source != NULL && g_strcmp0 (self->base.source, self->source) == 0)
    ts_correction_settings_copy (settings, &self->base);
  else
    return FALSE;
  g_free (settings->source);
  settings->source = g_strdup (self->source);
  settings->match_there = settings->match_here = (TsCardPlace){ 0 };
  if (self->disc[TS_DISC_HERE].radius > 0.0 && self->disc[TS_DISC_THERE].radius > 0.0)
    {
      settings->match_there = self->disc[TS_DISC_THERE];
      settings->match_here = self->disc[TS_DISC_HERE];
    }
  return TRUE;
}

gboolean
ts_correction_draft_compile (TsCorrectionDraft *self, TsCorrectionSettings *settings)
{
  switch (self->choice)
    {
    case TS_DRAFT_CHART:
      settings->kind = TS_CORRECTION_CHART;
      settings->chart = g_strdup (self->chart);
      for (guint i = 0; i < 4; i++)
        {
          settings->corner[i][0] = self->corner[i].x;
          settings->corner[i][1] = self->corner[i].y;
        }
      return self->has_corners;
    case TS_DRAFT_CARD:
      return compile_cards (self, settings);
    case TS_DRAFT_OTHER:
      return compile_other (self, settings);
    case TS_DRAFT_NONE:
    case TS_DRAFT_N_CHOICES:
    default:
      settings->kind = self->use_guess ? TS_CORRECTION_GUESS : TS_CORRECTION_NONE;
      return TRUE;
    }
}

/**
 * ts_correction_draft_get_picture:
 * @self: a draft
 *
 * Returns: index of the photograph that is corrected
 */
guint
ts_correction_draft_get_picture (TsCorrectionDraft *self)
{
  return self->picture;
}

/**
 * ts_correction_draft_get_choice:
 * @self: a draft
 *
 * Returns: how the photograph is to be corrected
 */
TsDraftChoice
ts_correction_draft_get_choice (TsCorrectionDraft *self)
{
  return self->choice;
}

/* The first photograph that can lend its correction. */
static int
find_source (TsCorrectionDraft *self)
{
  const TsPlan *plan = ts_document_get_plan (self->document);

  for (guint i = 0; i < plan->pictures->len; i++)
    if (ts_correction_draft_may_lend (self, i))
      return (int) i;
  return -1;
}

/**
 * ts_correction_draft_choose:
 * @self: a draft
 * @choice: how the photograph is to be corrected
 *
 * What was laid for another choice is kept, and is there when the painter comes back to it.
 */
void
ts_correction_draft_choose (TsCorrectionDraft *self, TsDraftChoice choice)
{
  int source;

  if (self->choice == choice)
    return;
  self->choice = choice;
  self->use_guess = FALSE;
  self->aim = choice == TS_DRAFT_OTHER ? TS_DISC_HERE : TS_DISC_GREY;
  ts_document_show_picture (self->document, self->picture);
  source = choice == TS_DRAFT_OTHER && self->source == NULL ? find_source (self) : -1;
  if (source >= 0)
    ts_correction_draft_set_source (self, (guint) source);
  else
    ts_correction_draft_wish (self, TRUE);
}

/**
 * ts_correction_draft_get_busy:
 * @self: a draft
 *
 * Returns: whether the newest wish is still being worked out
 */
gboolean
ts_correction_draft_get_busy (TsCorrectionDraft *self)
{
  return self->done < self->wish;
}

/**
 * ts_correction_draft_get_correction:
 * @self: a draft
 *
 * Returns: (transfer none) (nullable): the correction, of a wish a moment ago while it is busy
 */
TsCorrection *
ts_correction_draft_get_correction (TsCorrectionDraft *self)
{
  return self->correction;
}

/**
 * ts_correction_draft_get_reading:
 * @self: a draft
 *
 * Returns: (transfer none) (nullable): what was found of each patch, where the choice is a chart
 */
const TsChartReading *
ts_correction_draft_get_reading (TsCorrectionDraft *self)
{
  return self->has_reading ? &self->reading : NULL;
}

/**
 * ts_correction_draft_get_reference:
 * @self: a draft
 *
 * Returns: (transfer none) (nullable): the chart's own colours, where there is a reading
 */
const TsChartReference *
ts_correction_draft_get_reference (TsCorrectionDraft *self)
{
  return self->has_reading ? &self->reference : NULL;
}

/**
 * ts_correction_draft_get_fault:
 * @self: a draft
 *
 * Returns: (transfer none) (nullable): why it cannot be worked out, for the painter
 */
const char *
ts_correction_draft_get_fault (TsCorrectionDraft *self)
{
  return self->fault;
}

/* A plan keeps where a card lay also while it is corrected by a chart; that is no other wish. */
static void
copy_what_counts (TsCorrectionSettings *self, const TsCorrectionSettings *other)
{
  ts_correction_settings_copy (self, other);
  if (self->kind != TS_CORRECTION_CARD)
    {
      self->card_x = self->card_y = self->card_radius = self->card_lightness = 0.0;
      self->n_more_cards = 0;
    }
  if (self->kind != TS_CORRECTION_CHART)
    {
      memset (self->corner, 0, sizeof self->corner);
      g_clear_pointer (&self->chart, g_free);
    }
  if (self->kind == TS_CORRECTION_NONE || self->kind == TS_CORRECTION_GUESS)
    {
      g_clear_pointer (&self->source, g_free);
      self->match_here = self->match_there = (TsCardPlace){ 0 };
    }
}

static gboolean
asks_for_the_same (const TsCorrectionSettings *one, const TsCorrectionSettings *other)
{
  g_auto (TsCorrectionSettings) a = { .kind = TS_CORRECTION_NONE };
  g_auto (TsCorrectionSettings) b = { .kind = TS_CORRECTION_NONE };

  copy_what_counts (&a, one);
  copy_what_counts (&b, other);
  return ts_correction_settings_equal (&a, &b);
}

/**
 * ts_correction_draft_can_keep:
 * @self: a draft
 *
 * Returns: whether it is worked out and another correction than the plan has
 */
gboolean
ts_correction_draft_can_keep (TsCorrectionDraft *self)
{
  g_auto (TsCorrectionSettings) settings = { .kind = TS_CORRECTION_NONE };

  return !ts_correction_draft_get_busy (self) && self->correction != NULL &&
         get_planned (self) != NULL && ts_correction_draft_compile (self, &settings) &&
         !asks_for_the_same (&settings, &self->base);
}

/**
 * ts_correction_draft_keep:
 * @self: a draft that is worked out
 * @error: return location for an error, or %NULL
 *
 * Puts it into the plan, one step back, and measures all spots on the photograph again.
 *
 * Returns: %FALSE with a #TsError where that cannot be
 */
gboolean
ts_correction_draft_keep (TsCorrectionDraft *self, GError **error)
{
  g_auto (TsCorrectionSettings) settings = { .kind = TS_CORRECTION_NONE };

  g_return_val_if_fail (ts_correction_draft_can_keep (self), FALSE);

  ts_correction_draft_compile (self, &settings);
  ts_correction_settings_clear (&self->base);
  ts_correction_settings_copy (&self->base, &settings);
  return ts_document_take_correction (self->document, self->picture, &settings, self->correction,
                                      error);
}
