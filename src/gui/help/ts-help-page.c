/* ts-help-page.c: one chapter of the manual, read from Markdown
 *
 * As much of Markdown as the manual needs, so that its pages read well in the repository too:
 * headings, paragraphs, lists of one level, pictures on lines of their own, tables, **bold**,
 * `keys` and [links](page.md#heading).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/help/ts-help-page.h"

#include <string.h>

static void
block_free (gpointer data)
{
  TsHelpBlock *block = data;

  g_free (block->mark);
  g_free (block->markup);
  g_free (block->plain);
  g_free (block->target);
  g_free (block);
}

/* A text in the making. */
typedef struct
{
  GString *markup, *plain;
} Words;

static void
append (Words *words, const char *text, gsize length)
{
  g_autofree char *escaped = g_markup_escape_text (text, (gssize) length);

  g_string_append (words->markup, escaped);
  g_string_append_len (words->plain, text, (gssize) length);
}

/* [words](target) at @at; where it ends, or NULL where it is no link. */
static const char *
append_link (Words *words, const char *at)
{
  const char *middle = strstr (at, "](");
  const char *end = middle != NULL ? strchr (middle, ')') : NULL;
  g_autofree char *target = NULL;

  if (end == NULL)
    return NULL;
  target = g_markup_escape_text (middle + 2, end - middle - 2);
  g_string_append_printf (words->markup, "<a href=\"%s\">", target);
  append (words, at + 1, (gsize) (middle - at - 1));
  g_string_append (words->markup, "</a>");
  return end + 1;
}

/* What stands between two of @fence, as @tag; where it ends, or NULL where there is no second. */
static const char *
append_span (Words *words, const char *at, const char *fence, const char *tag)
{
  const char *start = at + strlen (fence), *end = strstr (start, fence);

  if (end == NULL)
    return NULL;
  g_string_append_printf (words->markup, "<%s>", tag);
  append (words, start, (gsize) (end - start));
  g_string_append_printf (words->markup, "</%s>", tag);
  return end + strlen (fence);
}

static void
append_all (Words *words, const char *text)
{
  while (*text != '\0')
    {
      const char *next = NULL;

      if (g_str_has_prefix (text, "**"))
        next = append_span (words, text, "**", "b");
      else if (*text == '`')
        next = append_span (words, text, "`", "tt");
      else if (*text == '[')
        next = append_link (words, text);
      if (next == NULL)
        {
          next = g_utf8_next_char (text);
          append (words, text, (gsize) (next - text));
        }
      text = next;
    }
}

/* As repositories name headings in links: small letters, digits, "-" for blanks. */
static char *
dup_heading_name (const char *text)
{
  GString *name = g_string_new (NULL);

  for (; *text != '\0'; text = g_utf8_next_char (text))
    {
      gunichar c = g_utf8_get_char (text);

      if (g_unichar_isalnum (c))
        g_string_append_unichar (name, g_unichar_tolower (c));
      else if (c == ' ' || c == '-')
        g_string_append_c (name, '-');
    }
  return g_string_free (name, FALSE);
}

static TsHelpBlock *
add (GPtrArray *blocks, TsHelpKind kind, guint level, const char *text)
{
  TsHelpBlock *block = g_new0 (TsHelpBlock, 1);
  Words words = { g_string_new (NULL), g_string_new (NULL) };

  block->kind = kind;
  block->level = level;
  append_all (&words, text);
  block->markup = g_string_free (words.markup, FALSE);
  block->plain = g_string_free (words.plain, FALSE);
  g_ptr_array_add (blocks, block);
  return block;
}

static void
add_picture (GPtrArray *blocks, const char *line)
{
  const char *middle = strstr (line, "](");
  const char *end = middle != NULL ? strchr (middle, ')') : NULL;
  g_autofree char *words = NULL;

  if (end == NULL)
    return;
  words = g_strndup (line + 2, (gsize) (middle - line - 2));
  add (blocks, TS_HELP_PICTURE, 0, words)->target =
    g_strndup (middle + 2, (gsize) (end - middle - 2));
}

/* | one | other | */
static void
add_row (GPtrArray *blocks, const char *line)
{
  g_auto (GStrv) cells = g_strsplit (line + 1, "|", -1);

  if (g_str_has_prefix (line, "|--"))
    return;
  for (guint i = 0; cells[i] != NULL && cells[i + 1] != NULL; i++)
    add (blocks, TS_HELP_ROW, i == 0 ? 1 : 0, g_strstrip (cells[i]));
}

/* What a list's line begins with, "-" or "1.", or 0. */
static gsize
get_mark_length (const char *line)
{
  gsize n = strspn (line, "0123456789");

  if (n > 0 && line[n] == '.' && line[n + 1] == ' ')
    return n + 1;
  return g_str_has_prefix (line, "- ") ? 1 : 0;
}

static void
end_paragraph (GPtrArray *blocks, GString *open, char **mark)
{
  if (open->len > 0)
    {
      TsHelpBlock *block =
        add (blocks, *mark != NULL ? TS_HELP_ITEM : TS_HELP_PARAGRAPH, 0, open->str);

      block->mark = g_steal_pointer (mark);
    }
  g_string_truncate (open, 0);
}

/* FALSE where the line is part of a paragraph. */
static gboolean
add_line_of_its_own (GPtrArray *blocks, const char *line)
{
  gsize level = strspn (line, "#");

  if (level > 0 && line[level] == ' ')
    add (blocks, TS_HELP_HEADING, (guint) level, line + level + 1)->target =
      dup_heading_name (line + level + 1);
  else if (g_str_has_prefix (line, "!["))
    add_picture (blocks, line);
  else if (*line == '|')
    add_row (blocks, line);
  else
    return *line == '\0';
  return TRUE;
}

static gboolean
stands_alone (const char *line)
{
  return *line == '\0' || *line == '#' || *line == '|' || g_str_has_prefix (line, "![");
}

/**
 * ts_help_page_parse:
 * @text: Markdown, as far as it is known here
 *
 * Returns: (transfer full) (element-type TsHelpBlock): its blocks, in order
 */
GPtrArray *
ts_help_page_parse (const char *text)
{
  GPtrArray *blocks = g_ptr_array_new_with_free_func (block_free);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  g_autoptr (GString) open = g_string_new (NULL);
  char *mark = NULL;

  for (guint i = 0; lines[i] != NULL; i++)
    {
      char *line = g_strstrip (lines[i]);
      gsize n = get_mark_length (line);

      if (n > 0 || stands_alone (line))
        end_paragraph (blocks, open, &mark);
      if (add_line_of_its_own (blocks, line))
        continue;
      if (n > 0)
        mark = n == 1 ? g_strdup ("•") : g_strndup (line, n);
      g_string_append_printf (open, "%s%s", open->len > 0 ? " " : "", line + n + (n > 0 ? 1 : 0));
    }
  end_paragraph (blocks, open, &mark);
  return blocks;
}

/**
 * ts_help_page_load:
 * @path: a file of Markdown
 * @error: a #GFileError where it cannot be read
 *
 * Returns: (transfer full) (nullable) (element-type TsHelpBlock): its blocks
 */
GPtrArray *
ts_help_page_load (const char *path, GError **error)
{
  g_autofree char *text = NULL;

  return g_file_get_contents (path, &text, NULL, error) ? ts_help_page_parse (text) : NULL;
}

/**
 * ts_help_page_links:
 * @blocks: (element-type TsHelpBlock): a page
 *
 * Returns: (transfer full) (element-type utf8): the files its list items link to, in order
 */
GPtrArray *
ts_help_page_links (const GPtrArray *blocks)
{
  GPtrArray *links = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < blocks->len; i++)
    {
      const TsHelpBlock *block = g_ptr_array_index (blocks, i);
      const char *start = block->kind == TS_HELP_ITEM ? strstr (block->markup, "href=\"") : NULL;

      if (start != NULL)
        g_ptr_array_add (links, g_strndup (start + 6, strcspn (start + 6, "\"#")));
    }
  return links;
}
