/* ts-document.c: the one changing state
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-document-private.h"

G_DEFINE_FINAL_TYPE (TsDocument, ts_document, G_TYPE_OBJECT)

static GParamSpec *properties[N_PROPS];
static guint signals[TS_DOCUMENT_N_SIGNALS];

static void
free_result (gpointer result)
{
  if (result != NULL)
    ts_surface_result_unref (result);
}

static void
free_choices (gpointer choices)
{
  if (choices != NULL)
    g_array_unref (choices);
}

void
ts_document_notify (TsDocument *self, int property)
{
  g_object_notify_by_pspec (G_OBJECT (self), properties[property]);
}

void
ts_document_emit (TsDocument *self, int signal, guint surface)
{
  if (signal == TS_DOCUMENT_RESULTS_CHANGED)
    g_signal_emit (self, signals[signal], 0, surface);
  else
    g_signal_emit (self, signals[signal], 0);
}

/* Says something to the painter, with a way to act on it where there is one. */
void
ts_document_tell (TsDocument *self, const char *text, const char *action, const char *label)
{
  g_signal_emit (self, signals[TS_DOCUMENT_MESSAGE], 0, text, action, label);
}

void
ts_document_set_busy (TsDocument *self, const char *text, double progress)
{
  if (g_strcmp0 (self->busy_text, text) != 0)
    {
      g_free (self->busy_text);
      self->busy_text = g_strdup (text);
      ts_document_notify (self, PROP_BUSY_TEXT);
    }
  self->progress = progress;
  ts_document_notify (self, PROP_PROGRESS);
  if (!self->busy)
    {
      self->busy = TRUE;
      ts_document_notify (self, PROP_BUSY);
    }
}

void
ts_document_clear_busy (TsDocument *self)
{
  g_clear_handle_id (&self->busy_source, g_source_remove);
  if (!self->busy)
    return;
  self->busy = FALSE;
  g_clear_pointer (&self->busy_text, g_free);
  ts_document_notify (self, PROP_BUSY);
  ts_document_notify (self, PROP_BUSY_TEXT);
}

static const char *
history_name (const GPtrArray *history)
{
  if (history->len == 0)
    return NULL;
  return ((const TsHistoryEntry *) g_ptr_array_index (history, history->len - 1))->name;
}

static void
ts_document_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  TsDocument *self = TS_DOCUMENT (object);

  switch (id)
    {
    case PROP_TITLE:
      g_value_set_string (value, self->plan != NULL ? self->plan->title : "");
      break;
    case PROP_PATH:
      g_value_set_string (value, self->path);
      break;
    case PROP_SAVED:
      g_value_set_boolean (value, ts_document_get_saved (self));
      break;
    case PROP_HAS_PLAN:
      g_value_set_boolean (value, self->plan != NULL);
      break;
    case PROP_UNDO_NAME:
      g_value_set_string (value, history_name (self->undo));
      break;
    case PROP_REDO_NAME:
      g_value_set_string (value, history_name (self->redo));
      break;
    case PROP_BUSY:
      g_value_set_boolean (value, self->busy);
      break;
    case PROP_PROGRESS:
      g_value_set_double (value, self->progress);
      break;
    case PROP_BUSY_TEXT:
      g_value_set_string (value, self->busy_text);
      break;
    case PROP_SELECTED_SURFACE:
      g_value_set_int (value, self->selected_surface);
      break;
    case PROP_SELECTED_STEP:
      g_value_set_int (value, self->selected_step);
      break;
    case PROP_PICTURE:
      g_value_set_int (value, (int) self->picture);
      break;
    case PROP_OPENING:
      g_value_set_boolean (value, ts_document_get_opening (self));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
ts_document_dispose (GObject *object)
{
  TsDocument *self = TS_DOCUMENT (object);

  ts_document_stop (self);
  g_clear_handle_id (&self->mix_source, g_source_remove);
  g_clear_handle_id (&self->busy_source, g_source_remove);
  G_OBJECT_CLASS (ts_document_parent_class)->dispose (object);
}

static void
ts_document_finalize (GObject *object)
{
  TsDocument *self = TS_DOCUMENT (object);

  g_clear_pointer (&self->plan, ts_plan_unref);
  g_clear_pointer (&self->saved_plan, ts_plan_unref);
  g_clear_pointer (&self->default_paints, ts_paint_set_unref);
  g_clear_pointer (&self->search, ts_recipe_search_unref);
  g_clear_pointer (&self->search_plan, ts_plan_unref);
  g_ptr_array_unref (self->undo);
  g_ptr_array_unref (self->redo);
  g_ptr_array_unref (self->results);
  g_ptr_array_unref (self->problems);
  g_ptr_array_unref (self->finished);
  g_ptr_array_unref (self->brief);
  g_hash_table_unref (self->images);
  g_hash_table_unref (self->corrections);
  g_clear_object (&self->mixing);
  g_clear_object (&self->opening);
  g_clear_object (&self->outlining);
  ts_document_drop_finish_draft (self);
  g_clear_pointer (&self->preview, ts_image_unref);
  g_free (self->path);
  g_free (self->gesture_name);
  g_free (self->default_paints_name);
  g_free (self->busy_text);
  G_OBJECT_CLASS (ts_document_parent_class)->finalize (object);
}

static void
install_properties (GObjectClass *object_class)
{
  const GParamFlags flags = G_PARAM_READABLE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS;

  properties[PROP_TITLE] = g_param_spec_string ("title", NULL, NULL, "", flags);
  properties[PROP_PATH] = g_param_spec_string ("path", NULL, NULL, NULL, flags);
  properties[PROP_SAVED] = g_param_spec_boolean ("saved", NULL, NULL, TRUE, flags);
  properties[PROP_HAS_PLAN] = g_param_spec_boolean ("has-plan", NULL, NULL, FALSE, flags);
  properties[PROP_UNDO_NAME] = g_param_spec_string ("undo-name", NULL, NULL, NULL, flags);
  properties[PROP_REDO_NAME] = g_param_spec_string ("redo-name", NULL, NULL, NULL, flags);
  properties[PROP_BUSY] = g_param_spec_boolean ("busy", NULL, NULL, FALSE, flags);
  properties[PROP_PROGRESS] = g_param_spec_double ("progress", NULL, NULL, 0.0, 1.0, 0.0, flags);
  properties[PROP_BUSY_TEXT] = g_param_spec_string ("busy-text", NULL, NULL, NULL, flags);
  properties[PROP_SELECTED_SURFACE] =
    g_param_spec_int ("selected-surface", NULL, NULL, -1, G_MAXINT, -1, flags);
  properties[PROP_SELECTED_STEP] =
    g_param_spec_int ("selected-step", NULL, NULL, -1, G_MAXINT, -1, flags);
  properties[PROP_PICTURE] = g_param_spec_int ("picture", NULL, NULL, 0, G_MAXINT, 0, flags);
  properties[PROP_OPENING] = g_param_spec_boolean ("opening", NULL, NULL, FALSE, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
ts_document_class_init (TsDocumentClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GType type = G_TYPE_FROM_CLASS (class);

  object_class->get_property = ts_document_get_property;
  object_class->dispose = ts_document_dispose;
  object_class->finalize = ts_document_finalize;
  install_properties (object_class);

  /* The plan is another one. */
  signals[TS_DOCUMENT_PLAN_CHANGED] =
    g_signal_new ("plan-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  /* The results of one surface, or of all (G_MAXUINT), are others. */
  signals[TS_DOCUMENT_RESULTS_CHANGED] = g_signal_new (
    "results-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  /* The pixels of the shown picture are others. */
  signals[TS_DOCUMENT_IMAGE_CHANGED] =
    g_signal_new ("image-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  /* Something to be told: text, action name, action label. */
  signals[TS_DOCUMENT_MESSAGE] =
    g_signal_new ("message", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 3,
                  G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING);
}

static void
ts_document_init (TsDocument *self)
{
  self->undo = g_ptr_array_new_with_free_func (ts_history_entry_free);
  self->redo = g_ptr_array_new_with_free_func (ts_history_entry_free);
  self->images =
    g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) ts_image_unref);
  self->corrections =
    g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_ptr_array_unref);
  self->results = g_ptr_array_new_with_free_func (free_result);
  self->problems = g_ptr_array_new_with_free_func (g_free);
  self->finished = g_ptr_array_new_with_free_func (g_free);
  self->brief = g_ptr_array_new_with_free_func (free_choices);
  self->selected_surface = -1;
  self->selected_step = -1;
  self->new_run_surface = -1;
  self->new_run = -1;
}

/**
 * ts_document_new:
 *
 * Returns: (transfer full): a document with nothing open
 */
TsDocument *
ts_document_new (void)
{
  return g_object_new (TS_TYPE_DOCUMENT, NULL);
}

/**
 * ts_document_get_plan:
 * @self: a document
 *
 * Returns: (transfer none) (nullable): the plan that is open
 */
const TsPlan *
ts_document_get_plan (TsDocument *self)
{
  return self->plan;
}

/**
 * ts_document_get_image:
 * @self: a document
 * @picture: index of a picture
 *
 * Returns: (transfer none) (nullable): its pixels, where the file could be read
 */
TsImage *
ts_document_get_image (TsDocument *self, guint picture)
{
  if (self->plan == NULL || picture >= self->plan->pictures->len)
    return NULL;
  return g_hash_table_lookup (self->images, ts_plan_get_picture (self->plan, picture)->path);
}

/**
 * ts_document_get_result:
 * @self: a document
 * @surface: index of a surface
 *
 * Returns: (transfer none) (nullable): what follows from its spots
 */
TsSurfaceResult *
ts_document_get_result (TsDocument *self, guint surface)
{
  return surface < self->results->len ? g_ptr_array_index (self->results, surface) : NULL;
}

/**
 * ts_document_get_results:
 * @self: a document
 *
 * Returns: (transfer none) (element-type TsSurfaceResult): one a surface, elements may be %NULL
 */
const GPtrArray *
ts_document_get_results (TsDocument *self)
{
  return self->results;
}

/**
 * ts_document_get_brief_choices:
 * @self: a document
 * @line: index of a line of the brief
 *
 * Returns: (transfer none) (nullable) (element-type TsRecipe): mixes for it, nearest first
 */
const GArray *
ts_document_get_brief_choices (TsDocument *self, guint line)
{
  return line < self->brief->len ? g_ptr_array_index (self->brief, line) : NULL;
}

/**
 * ts_document_get_problem:
 * @self: a document
 * @surface: index of a surface
 *
 * Returns: (transfer none) (nullable): why it has no result, for the painter
 */
const char *
ts_document_get_problem (TsDocument *self, guint surface)
{
  return surface < self->problems->len ? g_ptr_array_index (self->problems, surface) : NULL;
}

/**
 * ts_document_get_selected_surface:
 * @self: a document
 *
 * Returns: index of the selected surface, or -1
 */
int
ts_document_get_selected_surface (TsDocument *self)
{
  return self->selected_surface;
}

/**
 * ts_document_get_selected_step:
 * @self: a document
 *
 * Returns: index of the selected step of the selected surface, or -1
 */
int
ts_document_get_selected_step (TsDocument *self)
{
  return self->selected_step;
}

/**
 * ts_document_get_shown_picture:
 * @self: a document
 *
 * Returns: index of the picture that is shown
 */
guint
ts_document_get_shown_picture (TsDocument *self)
{
  return self->picture;
}

/**
 * ts_document_show_picture:
 * @self: a document with a plan
 * @picture: index of a picture
 *
 * Shows it. That is no change of the plan, and there is nothing to undo.
 */
void
ts_document_show_picture (TsDocument *self, guint picture)
{
  g_return_if_fail (self->plan != NULL && picture < self->plan->pictures->len);

  if (self->picture == picture)
    return;
  self->picture = picture;
  ts_document_notify (self, PROP_PICTURE);
  ts_document_emit (self, TS_DOCUMENT_IMAGE_CHANGED, 0);
}

/**
 * ts_document_get_path:
 * @self: a document
 *
 * Returns: (transfer none) (nullable): where the plan is saved
 */
const char *
ts_document_get_path (TsDocument *self)
{
  return self->path;
}

/**
 * ts_document_get_has_plan:
 * @self: a document
 *
 * Returns: whether a plan is open
 */
gboolean
ts_document_get_has_plan (TsDocument *self)
{
  return self->plan != NULL;
}

/**
 * ts_document_get_saved:
 * @self: a document
 *
 * Returns: whether the plan is as its file has it; %TRUE where none is open
 */
gboolean
ts_document_get_saved (TsDocument *self)
{
  return self->plan == self->saved_plan;
}

/**
 * ts_document_get_busy:
 * @self: a document
 *
 * Returns: whether long work is under way
 */
gboolean
ts_document_get_busy (TsDocument *self)
{
  return self->busy;
}

/**
 * ts_document_set_default_paints:
 * @self: a document
 * @paints: (nullable): a set
 * @name: (nullable): what it is called
 *
 * Sets the paints that a new plan starts with.
 */
void
ts_document_set_default_paints (TsDocument *self, TsPaintSet *paints, const char *name)
{
  /* Either may be the document's own. */
  TsPaintSet *taken = paints != NULL ? ts_paint_set_ref (paints) : NULL;
  char *called = g_strdup (name);

  g_clear_pointer (&self->default_paints, ts_paint_set_unref);
  g_free (self->default_paints_name);
  self->default_paints = taken;
  self->default_paints_name = called;
  if (self->plan == NULL)
    ts_document_emit (self, TS_DOCUMENT_PLAN_CHANGED, 0);
}

/**
 * ts_document_get_paints:
 * @self: a document
 *
 * Returns: (transfer none) (nullable): the plan's paints, or without a plan those that a new one
 *   starts with
 */
TsPaintSet *
ts_document_get_paints (TsDocument *self)
{
  return self->plan != NULL ? self->plan->paints : self->default_paints;
}

/**
 * ts_document_get_paints_name:
 * @self: a document
 *
 * Returns: (transfer none) (nullable): what they are called
 */
const char *
ts_document_get_paints_name (TsDocument *self)
{
  return self->plan != NULL ? self->plan->paints_name : self->default_paints_name;
}

/**
 * ts_document_select_surface:
 * @self: a document
 * @surface: index of a surface, or -1
 */
void
ts_document_select_surface (TsDocument *self, int surface)
{
  int n = self->plan != NULL ? (int) self->plan->surfaces->len : 0;

  surface = CLAMP (surface, -1, n - 1);
  if (surface == self->selected_surface)
    return;
  self->selected_surface = surface;
  self->selected_step = -1;
  ts_document_notify (self, PROP_SELECTED_SURFACE);
  ts_document_notify (self, PROP_SELECTED_STEP);
}

/**
 * ts_document_select_step:
 * @self: a document
 * @step: index of a step of the selected surface, or -1
 */
void
ts_document_select_step (TsDocument *self, int step)
{
  int n = self->selected_surface >= 0
            ? (int) ts_plan_get_surface (self->plan, (guint) self->selected_surface)->stair.n_steps
            : 0;

  if (step >= n)
    step = -1;
  if (step == self->selected_step)
    return;
  self->selected_step = step;
  ts_document_notify (self, PROP_SELECTED_STEP);
}
