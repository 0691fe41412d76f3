/* ts-help-page.h: one chapter of the manual, read from Markdown
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum
{
  TS_HELP_HEADING,
  TS_HELP_PARAGRAPH,
  TS_HELP_ITEM,
  TS_HELP_PICTURE,
  TS_HELP_ROW, /* of a table: as many blocks as it has cells, the first with level 1 */
} TsHelpKind;

/* A piece of a chapter. */
typedef struct
{
  TsHelpKind kind;
  guint level;  /* of a heading, from 1 */
  char *mark;   /* owned, nullable: what stands before an item */
  char *markup; /* owned: for a label */
  char *plain;  /* owned: the same as it is read; of a picture, what it shows */
  char *target; /* owned, nullable: a picture's file; a heading's name in links */
} TsHelpBlock;

GPtrArray *ts_help_page_parse (const char *text);
GPtrArray *ts_help_page_load  (const char  *path,
                               GError     **error);
GPtrArray *ts_help_page_links (const GPtrArray *blocks);

G_END_DECLS
