/* SPDX-License-Identifier: GPL-3.0-or-later
 * program.c - the text line by line, from its first % to the second one, or to M2 or M30: NISTIR
 * 6556, 3.1.
 */
#include "base/text.h"
#include "program/program-private.h"
#include <string.h>

enum { LINES_BETWEEN_LOOKS = 1000 };

void
hf_program_free(HfProgram *program)
{
  if (program == NULL)
    return;
  g_free(program->file);
  g_clear_pointer(&program->moves, g_array_unref);
  g_clear_pointer(&program->names, g_ptr_array_unref);
  g_free(program);
}

static HfProgram *
program_new(const char *file)
{
  HfProgram *program = g_new0(HfProgram, 1);
  program->file = g_strdup(file);
  program->moves = g_array_new(FALSE, FALSE, sizeof(HfMove));
  program->names = g_ptr_array_new_with_free_func(g_free);
  return program;
}

const char *
hf_program_name(const HfProgram *program, guint i)
{
  guint named = hf_program_move(program, i)->named;
  return named > 0 ? (const char *)program->names->pdata[named - 1] : NULL;
}

double
hf_move_length(const HfMove *move)
{
  double d[3];
  for (guint axis = 0; axis < 3; axis++)
    d[axis] = move->to[axis] - move->from[axis];
  if (move->kind != HF_MOVE_ROUND)
    return sqrt(d[0] * d[0] + d[1] * d[1] + d[2] * d[2]);
  static const guint first[] = {0, 2, 1}, second[] = {1, 0, 2}, third[] = {2, 1, 0};
  double round = fabs(move->sweep) *
                 hf_point_distance(move->centre, hf_point(move->from[first[move->plane]],
                                                          move->from[second[move->plane]]));
  return hypot(round, d[third[move->plane]]);
}

double
hf_move_seconds(const HfMove *move)
{
  return move->feed > 0 ? hf_move_length(move) / move->feed * 60 : move->seconds;
}

gboolean
hf_reader_refuse(const HfReader *reader, guint column, const char *fix, GError **error,
                 const char *format, ...)
{
  va_list args;
  va_start(args, format);
  g_autofree char *what = g_strdup_vprintf(format, args);
  va_end(args);
  g_autofree char *where =
      g_strdup_printf("%s:%u:%u", reader->program->file, reader->line, MAX(column, 1));
  hf_error_set(error, HF_ERROR_BAD_VALUE, where, fix, "%s", what);
  return FALSE;
}

char *
hf_reader_figure(double value)
{
  return fabs(value) < 1e12 ? hf_text_number(value, 4) : g_strdup("a number of that size");
}

/* ---- lines ---------------------------------------------------------------------------------- */

typedef struct {
  const char *text, *end;
} Text;

/* The next line, without its end; %FALSE: there is none. */
static gboolean
take_line(Text *text, HfLine *ret_line)
{
  if (text->text >= text->end)
    return FALSE;
  const char *stop = memchr(text->text, '\n', (gsize)(text->end - text->text));
  if (stop == NULL)
    stop = text->end;
  gsize n = (gsize)(stop - text->text);
  ret_line->text = text->text;
  ret_line->n = (guint)(n > 0 && stop[-1] == '\r' ? n - 1 : n);
  ret_line->at = ret_line->depth = 0;
  text->text = stop + 1;
  return TRUE;
}

static gboolean
is_percent(HfLine line)
{
  return hf_line_take(&line, '%') && hf_line_peek(&line) == '\0' && line.at == line.n;
}

static gboolean
is_blank(HfLine line)
{
  return hf_line_peek(&line) == '\0' && line.at == line.n;
}

/* Is there another % in what is left? */
static gboolean
ends_by_percent(Text text)
{
  HfLine line;
  while (take_line(&text, &line))
    if (is_percent(line))
      return TRUE;
  return FALSE;
}

static gboolean
refuse_no_end(HfReader *reader, gboolean percent, GError **error)
{
  if (percent) {
    reader->line = 1;
    return hf_reader_refuse(reader, 1, "end it with another %, or take the first one out", error,
                            "the program begins with %% but no other line ends it so");
  }
  return hf_reader_refuse(reader, 1, "end it with M2; perhaps a part of it is lost", error,
                          "the program has no end: neither M2 nor M30 was read");
}

static gboolean
read_one(HfReader *reader, HfLine *line, HfBlock *block, GError **error)
{
  return hf_block_read(line, block, error) && hf_reader_do(reader, block, error);
}

static gboolean
look_up(HfReader *reader, const HfCancel *cancel, GError **error)
{
  if (reader->line % LINES_BETWEEN_LOOKS != 0)
    return TRUE;
  if (reader->line > HF_PROGRAM_MOST_LINES) {
    hf_error_set(error, HF_ERROR_TOO_BIG, reader->program->file, "split it",
                 "the program has more than %u lines", HF_PROGRAM_MOST_LINES);
    return FALSE;
  }
  return hf_cancel_check(cancel, error);
}

static gboolean
read_all(HfReader *reader, Text text, const HfCancel *cancel, GError **error)
{
  g_autofree HfBlock *block = g_new(HfBlock, 1);
  HfLine line = {.reader = reader};
  gboolean percent = FALSE, begun = FALSE;
  while (!reader->over && take_line(&text, &line)) {
    reader->line++;
    if (!look_up(reader, cancel, error))
      return FALSE;
    if (is_blank(line))
      continue;
    if (is_percent(line)) {
      if (begun && percent)
        return TRUE;
      if (begun)
        return hf_reader_refuse(reader, 1, "put one on the first line too, or end it with M2",
                                error, "a %% ends the program that no %% began");
      percent = begun = TRUE;
      if (!ends_by_percent(text))
        return refuse_no_end(reader, TRUE, error);
      continue;
    }
    begun = TRUE;
    if (!read_one(reader, &line, block, error))
      return FALSE;
  }
  return reader->over || refuse_no_end(reader, FALSE, error);
}

HfProgram *
hf_program_read(const char *file, const char *text, gsize length, const HfCancel *cancel,
                GError **error)
{
  g_return_val_if_fail(file != NULL && (text != NULL || length == 0), NULL);
  if (length > HF_PROGRAM_MOST_BYTES) {
    hf_error_set(error, HF_ERROR_TOO_BIG, file, "split it", "the program is larger than %u MB",
                 HF_PROGRAM_MOST_BYTES >> 20);
    return NULL;
  }
  g_autoptr(HfProgram) program = program_new(file);
  g_autofree HfReader *reader = g_new0(HfReader, 1);
  reader->program = program;
  reader->feed = NAN;
  reader->motion = 800;
  if (!read_all(reader, (Text){text, text + length}, cancel, error))
    return NULL;
  program->lines = reader->line;
  return g_steal_pointer(&program);
}
