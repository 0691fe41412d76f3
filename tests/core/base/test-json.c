/* test-json.c: JSON members with their type and range checked, and JSON text
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <string.h>

#include "base/ts-error.h"
#include "base/ts-json.h"

static const char sample[] =
  "{\"n\": 12.5, \"i\": 3, \"s\": \"é\\\"\", \"t\": true, \"z\": null, \"o\": {\"k\": 1},\n"
  " \"a\": [1, 2.5, -3], \"m\": [1, \"x\", 3]}";

static JsonNode *
parse (const char *text)
{
  g_autoptr (GError) error = NULL;
  JsonNode *root = ts_json_parse (text, -1, "x.json", &error);

  assert_no_error (error);
  return root;
}

static void
test_members (void **state)
{
  g_autoptr (JsonNode) root = parse (sample);
  JsonObject *o = json_node_get_object (root);
  JsonObject *child = NULL;
  JsonArray *array = NULL;
  g_autoptr (GError) error = NULL;
  double n = 0.0, three[3];
  const char *s = NULL;
  gboolean flag = FALSE;

  assert_true (ts_json_get_number (o, "n", "p", 0, 100, &n, &error));
  assert_near (n, 12.5, 0.0);
  assert_true (ts_json_get_number (o, "i", "p", 3, 3, &n, &error));
  assert_near (n, 3.0, 0.0);
  assert_true (ts_json_get_number_or (o, "none", "p", 0, 1, 77, &n, &error));
  assert_near (n, 77.0, 0.0);
  assert_true (ts_json_get_number_or (o, "z", "p", 0, 1, 78, &n, &error));
  assert_near (n, 78.0, 0.0);
  assert_true (ts_json_get_string_or (o, "s", "p", NULL, &s, &error));
  assert_string_equal (s, "é\"");
  assert_true (ts_json_get_string_or (o, "none", "p", "d", &s, &error));
  assert_string_equal (s, "d");
  assert_true (ts_json_get_flag_or (o, "t", "p", FALSE, &flag, &error));
  assert_true (flag);
  assert_true (ts_json_get_object_or (o, "o", "p", &child, &error));
  assert_non_null (child);
  assert_true (ts_json_get_object_or (o, "z", "p", &child, &error));
  assert_null (child);
  assert_true (ts_json_get_array_or (o, "a", "p", &array, &error));
  assert_int_equal (json_array_get_length (array), 3);
  assert_true (ts_json_get_numbers (o, "a", "p", -5, 5, three, 3, &error));
  assert_near (three[2], -3.0, 0.0);
  assert_no_error (error);
}

static void
assert_refused (gboolean got, GError **error, int code, const char *path)
{
  assert_false (got);
  assert_true (g_error_matches (*error, TS_ERROR, code));
  assert_true (g_str_has_prefix ((*error)->message, path));
  g_clear_error (error);
}

static void
test_refused_members (void **state)
{
  g_autoptr (JsonNode) root = parse (sample);
  JsonObject *o = json_node_get_object (root), *child;
  JsonArray *array;
  g_autoptr (GError) e = NULL;
  double n, three[3];
  const char *s;
  gboolean flag;

  assert_refused (ts_json_get_number (o, "none", "p[1]", 0, 1, &n, &e), &e, TS_ERROR_NOT_FOUND,
                  "p[1].none");
  assert_refused (ts_json_get_number (o, "n", "p", 0, 12.4, &n, &e), &e, TS_ERROR_BAD_VALUE,
                  "p.n ");
  assert_refused (ts_json_get_number (o, "n", "", 12.6, 20, &n, &e), &e, TS_ERROR_BAD_VALUE, "n ");
  assert_refused (ts_json_get_number (o, "n", "p", (double) NAN, 20, &n, &e), &e,
                  TS_ERROR_BAD_VALUE, "p.n ");
  assert_refused (ts_json_get_number (o, "s", "p", 0, 1, &n, &e), &e, TS_ERROR_FORMAT, "p.s ");
  assert_refused (ts_json_get_number_or (o, "t", "p", 0, 1, 0, &n, &e), &e, TS_ERROR_FORMAT,
                  "p.t ");
  assert_refused (ts_json_get_number_or (o, "a", "p", 0, 1, 0, &n, &e), &e, TS_ERROR_FORMAT,
                  "p.a ");
  assert_refused (ts_json_get_string_or (o, "n", "p", NULL, &s, &e), &e, TS_ERROR_FORMAT, "p.n ");
  assert_refused (ts_json_get_flag_or (o, "i", "p", FALSE, &flag, &e), &e, TS_ERROR_FORMAT, "p.i ");
  assert_refused (ts_json_get_object_or (o, "a", "p", &child, &e), &e, TS_ERROR_FORMAT, "p.a ");
  assert_refused (ts_json_get_array_or (o, "o", "p", &array, &e), &e, TS_ERROR_FORMAT, "p.o ");
  assert_refused (ts_json_get_numbers (o, "a", "p", 0, 1, three, 2, &e), &e, TS_ERROR_FORMAT,
                  "p.a ");
  assert_refused (ts_json_get_numbers (o, "m", "p", 0, 9, three, 3, &e), &e, TS_ERROR_FORMAT,
                  "p.m[1] ");
  assert_refused (ts_json_get_numbers (o, "a", "p", 0, 9, three, 3, &e), &e, TS_ERROR_BAD_VALUE,
                  "p.a[2] ");
  assert_refused (ts_json_get_numbers (o, "z", "p", 0, 9, three, 3, &e), &e, TS_ERROR_NOT_FOUND,
                  "p.z ");
}

static void
test_refused_texts (void **state)
{
  static const struct
  {
    const char *text;
    int code;
  } texts[] = {
    { "", TS_ERROR_FORMAT },
    { "{", TS_ERROR_FORMAT },
    { "{\"a\": }", TS_ERROR_FORMAT },
    { "{\"a\": 1} x", TS_ERROR_FORMAT },
    { "[1, 2", TS_ERROR_FORMAT },
    { "\"\xff\"", TS_ERROR_FORMAT },
    { "{\"a\": nan}", TS_ERROR_FORMAT },
  };
  g_autofree char *deep = g_strnfill (200000, '[');
  g_autofree char *flat = g_strconcat ("\"", deep, "\"", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (JsonNode) root = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      assert_null (ts_json_parse (texts[i].text, -1, "x.json", &error));
      assert_true (g_error_matches (error, TS_ERROR, texts[i].code));
      assert_non_null (strstr (error->message, "x.json"));
      g_clear_error (&error);
    }
  assert_null (ts_json_parse (deep, -1, "x.json", &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_TOO_LARGE));
  g_clear_error (&error);
  root = ts_json_parse (flat, -1, "x.json", &error);
  assert_no_error (error);
}

static void
test_text (void **state)
{
  static const char want[] = "{\n"
                             "  \"b\": 12.346,\n"
                             "  \"a\": [0.1, 0, 100, null],\n"
                             "  \"list\": [\n"
                             "    \"x\\\"\\\\\\n\\u0001é\",\n"
                             "    {\n"
                             "      \"k\": true\n"
                             "    },\n"
                             "    {}\n"
                             "  ],\n"
                             "  \"none\": null,\n"
                             "  \"empty\": []\n"
                             "}\n";
  const double numbers[] = { 0.1, -0.0001, 100.0, (double) INFINITY };
  JsonObject *object = json_object_new (), *inner = json_object_new ();
  g_autoptr (JsonNode) root = json_node_init_object (json_node_alloc (), object);
  JsonArray *list = json_array_new ();
  g_autofree char *text = NULL;

  ts_json_set_number (object, "b", 12.3456, 3);
  ts_json_set_numbers (object, "a", numbers, 4, 2);
  json_array_add_string_element (list, "x\"\\\n\001é");
  json_object_set_boolean_member (inner, "k", TRUE);
  json_array_add_object_element (list, inner);
  json_array_add_object_element (list, json_object_new ());
  json_object_set_array_member (object, "list", list);
  ts_json_set_number (object, "none", (double) NAN, 3);
  json_object_set_array_member (object, "empty", json_array_new ());
  json_object_unref (object);
  text = ts_json_to_text (root);
  assert_string_equal (text, want);
}

/* Doubles of every size come back as themselves, bit for bit. */
static void
test_numbers_survive (void **state)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (4);
  guint distinct = 0;
  double last = 0.0;

  for (int i = 0; i < 500; i++)
    {
      double number =
        ldexp (g_rand_double_range (random, -1.0, 1.0), g_rand_int_range (random, -1000, 1000));
      JsonArray *array = json_array_new ();
      g_autoptr (JsonNode) root = json_node_init_array (json_node_alloc (), array);
      g_autoptr (JsonNode) again = NULL;
      g_autofree char *text = NULL;
      double back;

      json_array_add_double_element (array, number);
      json_array_unref (array);
      text = ts_json_to_text (root);
      again = parse (text);
      back = json_array_get_double_element (json_node_get_array (again), 0);
      assert_memory_equal (&back, &number, sizeof back);
      distinct += memcmp (&number, &last, sizeof last) != 0;
      last = number;
    }
  assert_int_equal (distinct, 500);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_members),         cmocka_unit_test (test_refused_members),
    cmocka_unit_test (test_refused_texts),   cmocka_unit_test (test_text),
    cmocka_unit_test (test_numbers_survive),
  };

  return cmocka_run_group_tests_name ("base/json", tests, NULL, NULL);
}
