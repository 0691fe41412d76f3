/* ts-jpeg-means.c: the mean of each block of a JPEG, without the rest of it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The first coefficient of a block is its mean; the others only have to be stepped over, which
 * takes a third of the time that libjpeg needs to decode them all and scale by 1/8. Huffman codes
 * as in ITU-T T.81, F.2.2. Names of markers and tables are libjpeg's.
 */
#include "image/ts-jpeg-means-private.h"

#include <string.h>

#define MOST_COMPONENTS 3
#define CODE_BITS 16
#define LOOK_BITS 12 /* that are looked at at once */
#define BLOCK_END 64 /* beyond the last coefficient */
#define BLOCK_SIZE 8
#define MAX_DC_BITS 11                  /* of 8-bit samples */
#define MAX_BLOCK_BYTES (BLOCK_END * 4) /* a code and what follows it: 16 + 15 bits */
#define BUFFER (64 * 1024)

/* What the next bits ask for, in one word: to drop some, to go on by some coefficients, and whether
 * the block is over then. That may be one code or several; without bits it takes a longer look. */
typedef guint32 Move;

#define MOVE(bits, step, ends) ((bits) | (step) << 8 | (ends) << 16)
#define MOVE_BITS(move) ((move) &0xff)
#define MOVE_STEP(move) ((move) >> 8 & 0xff)
#define MOVE_ENDS(move) ((move) >> 16)

typedef struct
{
  Move moves[1 << LOOK_BITS];
  /* By length: codes below the limit, in the upper of 16 bits, are that long or shorter; the place
   * of a code's symbol is that far from the code. */
  guint32 limits[CODE_BITS + 1];
  int offsets[CODE_BITS + 1];
  const JHUFF_TBL *table;
} Codes;

typedef struct
{
  guint across, down;     /* blocks of an MCU */
  guint times_x, times_y; /* of the component that has most of them */
  guint width;            /* samples a row, whole MCUs */
  int last;               /* the block before's coefficient */
  int quantum;
  const Codes *dc, *ac;
  guint8 *means; /* owned */
} Component;

struct _TsJpegMeans
{
  struct jpeg_decompress_struct *cinfo; /* borrowed */
  guint mcus, mcu_rows;
  guint row;        /* of MCUs, the next */
  guint to_restart; /* MCUs */
  Component components[MOST_COMPONENTS];
  Codes dc[NUM_HUFF_TBLS], ac[NUM_HUFF_TBLS];

  /* The data without what only keeps them apart from markers, and zeros for an MCU and more */
  guint8 *buffer; /* owned */
  const guint8 *next;
  gsize filled;
  gsize mcu_bytes; /* no MCU takes more */
  int marker;      /* the one that the data end with, or 0 */

  guint64 bits; /* that come next, the first on top */
  guint n_bits; /* of them that are taken from the buffer */
};

/* A code's symbol and length; FALSE where there is no such code. */
static gboolean
find_symbol (const Codes *codes, guint32 next, guint *symbol, guint *length)
{
  for (guint n = 1; n <= CODE_BITS; n++)
    if (next < codes->limits[n])
      {
        *symbol =
          codes->table->huffval[((int) (next >> (CODE_BITS - n)) + codes->offsets[n]) & 0xff];
        *length = n;
        return TRUE;
      }
  return FALSE;
}

/* The lower half of an AC symbol is how many bits follow, the upper how many zeros come before it;
 * nothing but 15 zeros goes on without a value. 0 where there is no such code. */
static Move
find_move (const Codes *codes, guint32 next)
{
  guint symbol, length;

  if (!find_symbol (codes, next, &symbol, &length))
    return 0;
  if ((symbol & 0xf) == 0 && symbol >> 4 < 15)
    return MOVE (length, 0u, 1u);
  return MOVE (length + (symbol & 0xf), (symbol >> 4) + 1, 0u);
}

/* As many codes as can be seen in the upper bits of @next, the first even where what follows it
 * cannot. */
static Move
join_moves (const Codes *codes, guint32 next)
{
  guint symbol, length;
  Move all, one;

  if (!find_symbol (codes, next, &symbol, &length) || length > LOOK_BITS)
    return 0;
  all = find_move (codes, next);
  while (!MOVE_ENDS (all) && MOVE_BITS (all) < LOOK_BITS)
    {
      one = find_move (codes, next << MOVE_BITS (all) & 0xffff);
      if (one == 0 || MOVE_BITS (all) + MOVE_BITS (one) > LOOK_BITS)
        break;
      all += one;
    }
  return all;
}

static gboolean
prepare_codes (Codes *self, const JHUFF_TBL *table)
{
  guint32 code = 0; /* the first of its length */
  int n = 0;

  if (table == NULL)
    return FALSE;
  self->table = table;
  for (guint length = 1; length <= CODE_BITS; length++, code <<= 1)
    {
      self->offsets[length] = n - (int) code;
      code += table->bits[length];
      n += table->bits[length];
      if (code > 1u << length || n > 256)
        return FALSE;
      self->limits[length] = code << (CODE_BITS - length);
    }
  for (guint32 i = 0; i < 1 << LOOK_BITS; i++)
    self->moves[i] = join_moves (self, i << (CODE_BITS - LOOK_BITS));
  return TRUE;
}

static gboolean
has_tables (const jpeg_component_info *info)
{
  return info->quant_tbl_no >= 0 && info->quant_tbl_no < NUM_QUANT_TBLS && info->dc_tbl_no >= 0 &&
         info->dc_tbl_no < NUM_HUFF_TBLS && info->ac_tbl_no >= 0 && info->ac_tbl_no < NUM_HUFF_TBLS;
}

static gboolean
prepare_component (TsJpegMeans *self, const jpeg_component_info *info, Component *component)
{
  struct jpeg_decompress_struct *cinfo = self->cinfo;
  const JQUANT_TBL *quanta = has_tables (info) ? cinfo->quant_tbl_ptrs[info->quant_tbl_no] : NULL;
  gboolean several = cinfo->comps_in_scan > 1;

  if (quanta == NULL ||
      !prepare_codes (&self->dc[info->dc_tbl_no], cinfo->dc_huff_tbl_ptrs[info->dc_tbl_no]) ||
      !prepare_codes (&self->ac[info->ac_tbl_no], cinfo->ac_huff_tbl_ptrs[info->ac_tbl_no]))
    return FALSE;
  component->dc = &self->dc[info->dc_tbl_no];
  component->ac = &self->ac[info->ac_tbl_no];
  component->quantum = quanta->quantval[0];
  /* A scan of one component goes block by block, whatever its share. */
  component->across = several ? (guint) info->h_samp_factor : 1;
  component->down = several ? (guint) info->v_samp_factor : 1;
  component->times_x = several ? (guint) cinfo->max_h_samp_factor : 1;
  component->times_y = several ? (guint) cinfo->max_v_samp_factor : 1;
  component->width = component->across * self->mcus;
  component->means = g_try_malloc ((gsize) component->width * component->down * self->mcu_rows);
  return component->means != NULL;
}

static gboolean
is_readable (struct jpeg_decompress_struct *cinfo)
{
  int n = cinfo->num_components;

  return !cinfo->progressive_mode && !cinfo->arith_code && cinfo->data_precision == 8 &&
         cinfo->comps_in_scan == n &&
         ((n == 1 && cinfo->out_color_space == JCS_GRAYSCALE) ||
          (n == MOST_COMPONENTS && cinfo->out_color_space == JCS_RGB));
}

static guint
divide_up (guint a, guint b)
{
  return (a + b - 1) / b;
}

TsJpegMeans *
ts_jpeg_means_new (struct jpeg_decompress_struct *cinfo)
{
  g_autoptr (TsJpegMeans) self = NULL;
  gboolean several = cinfo->comps_in_scan > 1;

  if (!is_readable (cinfo))
    return NULL;
  self = g_new0 (TsJpegMeans, 1);
  self->cinfo = cinfo;
  self->mcus =
    divide_up (cinfo->image_width, BLOCK_SIZE * (several ? (guint) cinfo->max_h_samp_factor : 1));
  self->mcu_rows =
    divide_up (cinfo->image_height, BLOCK_SIZE * (several ? (guint) cinfo->max_v_samp_factor : 1));
  self->to_restart = cinfo->restart_interval;
  for (int i = 0; i < cinfo->comps_in_scan; i++)
    if (!prepare_component (self, cinfo->cur_comp_info[i], &self->components[i]))
      return NULL;
  for (guint i = 0; i < MOST_COMPONENTS; i++)
    self->mcu_bytes +=
      (gsize) self->components[i].across * self->components[i].down * MAX_BLOCK_BYTES;
  self->buffer = g_malloc (BUFFER + self->mcu_bytes + sizeof self->bits);
  self->next = self->buffer;
  return g_steal_pointer (&self);
}

void
ts_jpeg_means_free (TsJpegMeans *self)
{
  for (guint i = 0; i < MOST_COMPONENTS; i++)
    g_free (self->components[i].means);
  g_free (self->buffer);
  g_free (self);
}

guint
ts_jpeg_means_get_steps (const TsJpegMeans *self)
{
  return self->mcu_rows;
}

static guint8
read_byte (TsJpegMeans *self)
{
  struct jpeg_source_mgr *input = self->cinfo->src;

  if (input->bytes_in_buffer == 0)
    input->fill_input_buffer (self->cinfo);
  input->bytes_in_buffer--;
  return *input->next_input_byte++;
}

/* A 0xff of the data is followed by 0, that of a marker is not. */
static void
take_byte (TsJpegMeans *self)
{
  guint8 byte = read_byte (self);

  if (byte == 0xff)
    self->marker = read_byte (self);
  if (self->marker == 0)
    self->buffer[self->filled++] = byte;
}

static void
fill_buffer (TsJpegMeans *self)
{
  struct jpeg_source_mgr *input = self->cinfo->src;
  gsize used = MIN ((gsize) (self->next - self->buffer), self->filled);

  self->filled -= used;
  self->next -= used;
  memmove (self->buffer, self->buffer + used, self->filled);
  while (self->marker == 0 && self->filled < BUFFER)
    {
      gsize n = MIN (input->bytes_in_buffer, BUFFER - self->filled);
      const guint8 *escape = memchr (input->next_input_byte, 0xff, n);

      n = escape != NULL ? (gsize) (escape - input->next_input_byte) : n;
      memcpy (self->buffer + self->filled, input->next_input_byte, n);
      self->filled += n;
      input->next_input_byte += n;
      input->bytes_in_buffer -= n;
      if (self->filled < BUFFER)
        take_byte (self);
    }
  memset (self->buffer + self->filled, 0, self->mcu_bytes + sizeof self->bits);
}

/* Of those that are there; less than none where more were read. */
static gssize
count_bits_left (const TsJpegMeans *self)
{
  return 8 * (gssize) (self->buffer + self->filled - self->next) + (gssize) self->n_bits;
}

/* So that 56 bits or more are there. Those of the last byte that is not whole come once more with
 * the next and are the same. */
static inline void
fill (TsJpegMeans *self)
{
  guint64 next;

  memcpy (&next, self->next, sizeof next);
  self->bits |= GUINT64_FROM_BE (next) >> self->n_bits;
  self->next += (63 - self->n_bits) / 8;
  self->n_bits |= 56;
}

static inline void
drop (TsJpegMeans *self, guint n)
{
  self->bits <<= n;
  self->n_bits -= n;
}

/* T.81, F.2.2.1: the difference to the block before. */
static gboolean
read_mean (TsJpegMeans *self, Component *component, guint8 *mean)
{
  guint size, length;
  int value;

  fill (self);
  if (!find_symbol (component->dc, (guint32) (self->bits >> (64 - CODE_BITS)), &size, &length) ||
      size > MAX_DC_BITS)
    return FALSE;
  drop (self, length);
  if (size > 0)
    {
      value = (int) (self->bits >> (64 - size));
      drop (self, size);
      if (value < 1 << (size - 1))
        value -= (1 << size) - 1;
      component->last = CLAMP (component->last + value, -G_MAXINT16, G_MAXINT16);
    }
  /* As libjpeg's own transform to one sample. */
  value = (component->last * component->quantum + BLOCK_SIZE / 2) >> 3;
  *mean = (guint8) CLAMP (value + CENTERJSAMPLE, 0, MAXJSAMPLE);
  return TRUE;
}

/* Works on a copy, which stays in registers. */
static gboolean
skip_rest (TsJpegMeans *self, const Codes *codes)
{
  const guint8 *next = self->next;
  guint64 bits = self->bits, more;
  guint n_bits = self->n_bits, k = 1;
  Move move = 0;

  while (k < BLOCK_END && !MOVE_ENDS (move))
    {
      memcpy (&more, next, sizeof more); /* as fill () */
      bits |= GUINT64_FROM_BE (more) >> n_bits;
      next += (63 - n_bits) / 8;
      n_bits |= 56;
      move = codes->moves[bits >> (64 - LOOK_BITS)];
      /* What comes after the last coefficient is another block's. */
      if (G_UNLIKELY (move == 0 || k + MOVE_STEP (move) >= BLOCK_END))
        move = find_move (codes, (guint32) (bits >> (64 - CODE_BITS)));
      if (move == 0)
        return FALSE;
      bits <<= MOVE_BITS (move);
      n_bits -= MOVE_BITS (move);
      k += MOVE_STEP (move);
    }
  self->next = next;
  self->bits = bits;
  self->n_bits = n_bits;
  return TRUE;
}

/* What is left of the last byte is dropped, and the marker must be there. */
static gboolean
restart (TsJpegMeans *self)
{
  if (count_bits_left (self) >= 8 || self->marker < JPEG_RST0 || self->marker > JPEG_RST0 + 7)
    return FALSE;
  self->marker = 0;
  self->bits = 0;
  self->n_bits = 0;
  self->filled = 0;
  self->next = self->buffer;
  fill_buffer (self);
  self->to_restart = self->cinfo->restart_interval;
  for (guint i = 0; i < MOST_COMPONENTS; i++)
    self->components[i].last = 0;
  return TRUE;
}

static gboolean
read_blocks (TsJpegMeans *self, Component *component, guint mcu)
{
  for (guint y = 0; y < component->down; y++)
    for (guint x = 0; x < component->across; x++)
      {
        gsize row = (gsize) self->row * component->down + y;
        guint8 *mean =
          component->means + row * component->width + (gsize) mcu * component->across + x;

        if (!read_mean (self, component, mean) || !skip_rest (self, component->ac))
          return FALSE;
      }
  return TRUE;
}

gboolean
ts_jpeg_means_read (TsJpegMeans *self)
{
  for (guint mcu = 0; mcu < self->mcus; mcu++)
    {
      if (self->buffer + self->filled < self->next + self->mcu_bytes)
        fill_buffer (self);
      if (self->cinfo->restart_interval > 0 && self->to_restart == 0 && !restart (self))
        return FALSE;
      for (int i = 0; i < self->cinfo->comps_in_scan; i++)
        if (!read_blocks (self, &self->components[i], mcu))
          return FALSE;
      self->to_restart--;
      if (count_bits_left (self) < 0)
        return FALSE; /* they ended before */
    }
  self->row++;
  return TRUE;
}

/* Each sample as often as it takes to be as many as those of the finest component. */
static void
spread (const Component *component, guint y, guint width, guint step, guint8 *row)
{
  const guint8 *sample =
    component->means + (gsize) (y * component->down / component->times_y) * component->width;

  for (guint x = 0, part = 0; x < width; x++, row += step)
    {
      *row = *sample;
      part += component->across;
      if (part >= component->times_x)
        {
          part -= component->times_x;
          sample++;
        }
    }
}

static guint8
limit (int value)
{
  return (guint8) CLAMP (value, 0, MAXJSAMPLE);
}

/* JFIF 1.02, in libjpeg's whole numbers: 65536 times the factors. */
static void
convert_to_rgb (guint8 *pixel)
{
  int Y = pixel[0], Cb = pixel[1] - CENTERJSAMPLE, Cr = pixel[2] - CENTERJSAMPLE;

  pixel[0] = limit (Y + ((91881 * Cr + 32768) >> 16));
  pixel[1] = limit (Y + ((-22554 * Cb - 46802 * Cr + 32768) >> 16));
  pixel[2] = limit (Y + ((116130 * Cb + 32768) >> 16));
}

void
ts_jpeg_means_get_row (const TsJpegMeans *self, guint y, guint8 *row)
{
  guint width = divide_up (self->cinfo->image_width, BLOCK_SIZE);
  guint n = (guint) self->cinfo->comps_in_scan;

  for (guint i = 0; i < n; i++)
    spread (&self->components[i], y, width, n, row + i);
  if (self->cinfo->jpeg_color_space == JCS_YCbCr)
    for (guint x = 0; x < width; x++)
      convert_to_rgb (row + x * n);
}
