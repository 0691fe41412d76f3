/* ts-error.h: the one error domain of the core
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A message says what went wrong, where (file, line, member) and what mends it: it is shown as it
 * stands. A run that was stopped reports G_IO_ERROR_CANCELLED instead. */
typedef enum
{
  TS_ERROR_IO,          /* a file cannot be read or written */
  TS_ERROR_FORMAT,      /* the bytes are not what their format promises */
  TS_ERROR_UNSUPPORTED, /* a format, or a variant of one, that is not read */
  TS_ERROR_TOO_LARGE,   /* beyond a stated limit */
  TS_ERROR_TOO_FEW,     /* not enough of something to go on */
  TS_ERROR_BAD_VALUE,   /* a number or word outside its range */
  TS_ERROR_NOT_FOUND    /* something named is not there */
} TsError;

#define TS_ERROR (ts_error_quark ())

GQuark ts_error_quark (void);

G_END_DECLS
