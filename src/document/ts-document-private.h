/* ts-document-private.h: the document's fields, shared by the files of its verbs
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "document/ts-document.h"

G_BEGIN_DECLS

/* Which results a change makes stale. */
#define TS_SURFACE_ALL  -1
#define TS_SURFACE_NONE -2

enum
{
  TS_DOCUMENT_PLAN_CHANGED,
  TS_DOCUMENT_RESULTS_CHANGED,
  TS_DOCUMENT_IMAGE_CHANGED,
  TS_DOCUMENT_MESSAGE,
  TS_DOCUMENT_N_SIGNALS
};

enum
{
  PROP_0,
  PROP_TITLE,
  PROP_PATH,
  PROP_SAVED,
  PROP_HAS_PLAN,
  PROP_UNDO_NAME,
  PROP_REDO_NAME,
  PROP_BUSY,
  PROP_PROGRESS,
  PROP_BUSY_TEXT,
  PROP_SELECTED_SURFACE,
  PROP_SELECTED_STEP,
  PROP_PICTURE,
  PROP_OPENING,
  N_PROPS
};

struct _TsDocument
{
  GObject parent_instance;

  /* Owned */
  TsPlan         *plan;       /* NULL: nothing is open */
  TsPlan         *saved_plan; /* the plan as its file has it */
  char           *path;
  GPtrArray      *undo;       /* TsHistoryEntry, latest last */
  GPtrArray      *redo;
  char           *gesture_name;
  GHashTable     *images;      /* path -> TsImage */
  GHashTable     *corrections; /* path -> GPtrArray of what is worked out */
  GPtrArray      *results;     /* TsSurfaceResult or NULL, one a surface */
  GPtrArray      *problems;    /* char * or NULL, one a surface */
  GPtrArray      *finished;    /* TsFinished or NULL, one a surface */
  GPtrArray      *brief;       /* GArray of TsRecipe or NULL, one a line */
  TsPaintSet     *default_paints;
  char           *default_paints_name;
  TsRecipeSearch *search;
  TsPlan         *search_plan; /* that it was made for */
  GCancellable   *mixing;
  GCancellable   *opening;
  GCancellable   *outlining;
  GCancellable   *finishing;    /* the reading of finish_draft, or NULL */
  TsOutline      *finish_draft; /* on the finished figure, being moved or read, or NULL */
  const char     *finish_draft_name;
  TsImage        *preview; /* reduced, of what opens, or NULL */
  char           *busy_text;

  /* Values */
  gboolean gesture_open;   /* between begin and end */
  gboolean gesture_pushed; /* its first change stands in the history */
  int      new_run_surface, new_run; /* drawn in this gesture, or -1 */
  guint    n_changes;      /* made, taken back or made again */
  guint    mix_source, busy_source;
  gboolean busy;
  double   progress;
  int      selected_surface, selected_step;
  guint    picture;
  guint    finish_draft_surface;

  /* What a new plan starts with; 0: as a plan has it */
  TsPlanDefaults defaults;
};

/* One step back or forward: what it is called, and the plan that it leads to; without a plan, the
 * paints that new plans start with. */
typedef struct
{
  char       *name;
  TsPlan     *plan;   /* or NULL */
  TsPaintSet *paints; /* or NULL */
  char       *paints_name;
} TsHistoryEntry;

void      ts_history_entry_free          (gpointer      entry);

/* The only way in which the plan changes by a verb: takes @plan, keeps the old one as @name. */
void      ts_document_change             (TsDocument   *self,
                                          TsPlan       *plan,
                                          const char   *name,
                                          int           surface);
/* Without a plan: the paints that new plans start with become @paints, which are not taken. */
void      ts_document_change_default_paints (TsDocument *self,
                                             TsPaintSet *paints,
                                             const char *set_name,
                                             const char *name);
/* Puts another plan in the old one's place without a step back: opening, closing, undo. */
void      ts_document_replace            (TsDocument   *self,
                                          TsPlan       *plan);
void      ts_document_forget_history     (TsDocument   *self);
void      ts_document_recompute          (TsDocument   *self,
                                          int           surface);
void      ts_document_queue_mix          (TsDocument   *self);
void      ts_document_set_busy           (TsDocument   *self,
                                          const char   *text,
                                          double        progress);
void      ts_document_clear_busy         (TsDocument   *self);
void      ts_document_tell               (TsDocument   *self,
                                          const char   *text,
                                          const char   *action,
                                          const char   *label);
void      ts_document_notify             (TsDocument   *self,
                                          int           property);
void      ts_document_emit               (TsDocument   *self,
                                          int           signal,
                                          guint         surface);
TsCorrection *ts_document_need_correction (TsDocument *self,
                                           guint       picture);
void      ts_document_settle_new_run     (TsDocument   *self);
/* A name for a surface that no other has. */
char     *ts_document_free_name          (const TsPlan *plan);
/* Checks the finished figure anew along the run of @surface, or TS_SURFACE_ALL. */
void      ts_document_check_finish       (TsDocument   *self,
                                          int           surface);
/* A reduced form of what opens; %NULL once it is there or given up. Takes @preview. */
void      ts_document_set_preview        (TsDocument   *self,
                                          TsImage      *preview);
/* An outline laid on the finished figure, to be read. */
typedef struct
{
  guint      surface; /* index */
  TsOutline *outline;
  char      *fault;   /* why it could not be read, or NULL */
} TsFinishPlaced;

/* Takes what was opened as the finished figure's photograph; @opening has its answer then. */
void      ts_document_take_finished      (TsDocument   *self,
                                          const char   *path,
                                          TsImage      *image,
                                          GTask        *opening);
/* A plan with the photograph in place of the one before, and with all runs on it, but no outline. */
TsPlan   *ts_document_lay_photo          (TsDocument   *self,
                                          const char   *path,
                                          TsImage      *image,
                                          guint        *picture);
/* Takes a plan in which only what lies on the finished figure is another. */
void      ts_document_change_finish      (TsDocument   *self,
                                          TsPlan       *plan,
                                          const char   *name,
                                          int           surface);
/* Lays the outline of a surface that has one on the finished figure, and reads it. */
void      ts_document_lay_finish_outline (TsDocument   *self,
                                          guint         surface,
                                          guint         picture,
                                          TsImage      *image);
/* An outline that is being moved there is where it was. */
void      ts_document_drop_finish_draft  (TsDocument   *self);
/* What is open was kept, not saved: it belongs to the file @path, or to none yet (%NULL). */
void      ts_document_set_origin         (TsDocument   *self,
                                          const char   *path);
/* Accents go along where the steps of @source's stair are numbered anew: @moved has the new numbers. */
void      ts_document_move_accents       (TsPlan       *plan,
                                          guint         source,
                                          const guint  *moved,
                                          guint         n);
TsPoint   ts_document_hold_within        (const TsImage *image,
                                          TsPoint       place);

G_END_DECLS
