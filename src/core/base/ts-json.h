/* ts-json.h: JSON members with their type and range checked, and JSON text with short numbers
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <json-glib/json-glib.h>

G_BEGIN_DECLS

/* Reading. @where is the path of @object in its file ("surfaces[2].runs[0]") and begins every
 * error message. The plain form needs the member; the _or form takes @fallback where it is not
 * there, and still fails where it is of the wrong type or out of range. */
JsonNode   *ts_json_parse         (const char    *text,
                                   gssize         length,
                                   const char    *what,
                                   GError       **error);
gboolean    ts_json_get_number    (JsonObject    *object,
                                   const char    *member,
                                   const char    *where,
                                   double         least,
                                   double         most,
                                   double        *number,
                                   GError       **error);
gboolean    ts_json_get_number_or (JsonObject    *object,
                                   const char    *member,
                                   const char    *where,
                                   double         least,
                                   double         most,
                                   double         fallback,
                                   double        *number,
                                   GError       **error);
gboolean    ts_json_get_string_or (JsonObject    *object,
                                   const char    *member,
                                   const char    *where,
                                   const char    *fallback,
                                   const char   **string,
                                   GError       **error);
gboolean    ts_json_get_flag_or   (JsonObject    *object,
                                   const char    *member,
                                   const char    *where,
                                   gboolean       fallback,
                                   gboolean      *flag,
                                   GError       **error);
/* %NULL without an error where the member is missing or null. */
gboolean    ts_json_get_object_or (JsonObject    *object,
                                   const char    *member,
                                   const char    *where,
                                   JsonObject   **child,
                                   GError       **error);
gboolean    ts_json_get_array_or  (JsonObject    *object,
                                   const char    *member,
                                   const char    *where,
                                   JsonArray    **child,
                                   GError       **error);
gboolean    ts_json_get_numbers   (JsonObject    *object,
                                   const char    *member,
                                   const char    *where,
                                   double         least,
                                   double         most,
                                   double        *numbers,
                                   guint          n,
                                   GError       **error);

/* Writing: a number rounded to @decimals places; a short array of them. */
void        ts_json_set_number    (JsonObject    *object,
                                   const char    *member,
                                   double         number,
                                   int            decimals);
void        ts_json_set_numbers   (JsonObject    *object,
                                   const char    *member,
                                   const double  *numbers,
                                   guint          n,
                                   int            decimals);

/* Text of a tree: two spaces a level, members in the order they were set, arrays of plain numbers
 * on one line, each number as its shortest decimal form, a newline at the end. */
char       *ts_json_to_text       (JsonNode      *root);

G_END_DECLS
