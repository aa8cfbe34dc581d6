/* SPDX-License-Identifier: GPL-3.0-or-later
 * read-block.c - one line of a program to its words: NISTIR 6556, 3.3.
 *
 *   N0120 G1 X[#1 + 2] Y-3.5 (letter R) #1=4
 *   number word word   word  comment    setting, done once the whole line is read
 */
#include "base/seen.h"
#include "program/program-private.h"
#include <string.h>

const char hf_axis_letters[HF_AXES + 1] = "XYZABC";

guint
hf_block_first_axis(const HfBlock *block)
{
  for (guint axis = 0; axis < HF_AXES; axis++)
    if (hf_block_has(block, hf_axis_letters[axis]))
      return hf_block_column(block, hf_axis_letters[axis]);
  return 0;
}

gboolean
hf_reader_whole(const HfReader *reader, const HfBlock *block, char letter, int least, int most,
                int *ret_value, GError **error)
{
  double value = hf_block_value(block, letter), whole = rint(value);
  if (!(fabs(value - whole) <= 1e-4 && whole >= least && whole <= most)) {
    g_autofree char *fix = g_strdup_printf("take a whole number from %d to %d", least, most);
    g_autofree char *figure = hf_reader_figure(value);
    return hf_reader_refuse(reader, hf_block_column(block, letter), fix, error, "%c can't be %s",
                            letter, figure);
  }
  *ret_value = (int)whole;
  return TRUE;
}

/* The last of a line counts. */
static gboolean
read_comment(HfLine *line, HfBlock *block, GError **error)
{
  guint column = hf_line_here(line), from = ++line->at;
  for (; line->at < line->n; line->at++) {
    char c = line->text[line->at];
    if (c == '(')
      return hf_reader_refuse(line->reader, line->at + 1, "take one pair of parentheses out", error,
                              "a comment stands within a comment");
    if (c == ')') {
      block->comment = line->text + from;
      block->n_comment = line->at++ - from;
      return TRUE;
    }
  }
  return hf_reader_refuse(line->reader, column, "close it with ) on the same line", error,
                          "the comment has no end");
}

static gboolean
read_setting(HfLine *line, HfBlock *block, GError **error)
{
  guint column = hf_line_here(line);
  HfSetting setting = {0, 0};
  double kept;
  if (!hf_line_parameter(line, &setting.number, error))
    return FALSE;
  if (!hf_line_take(line, '='))
    return hf_reader_refuse(line->reader, hf_line_here(line), "write #1=2 to set it", error,
                            "a parameter without a letter before it is set, but there is no =");
  if (!hf_line_value(line, &setting.value, error))
    return FALSE;
  if (hf_reader_system_parameter(line->reader, setting.number, &kept) ||
      (setting.number >= 5161 && setting.number <= 5390))
    return hf_reader_refuse(line->reader, column, "set offsets by G10 L2 or G92", error,
                            "parameter %u is the machine's own", setting.number);
  if (block->n_settings == HF_SETTINGS_MOST)
    return hf_reader_refuse(line->reader, column, "put them on two lines", error,
                            "there are too many settings on one line");
  block->settings[block->n_settings++] = setting;
  return TRUE;
}

static gboolean
read_word(HfLine *line, HfBlock *block, GError **error)
{
  guint column = hf_line_here(line);
  char letter = (char)g_ascii_toupper(hf_line_peek(line));
  if (strchr("ABCDFGHIJKLMPQRSTXYZ", letter) == NULL)
    return hf_reader_refuse(line->reader, column,
                            letter == 'N' ? "put the line's number first"
                            : letter == 'O'
                                ? "write the moves out: subroutines and loops are not read"
                                : "take it out",
                            error, "there is no word that begins with %c here", letter);
  line->at++;
  double value = 0;
  if (!hf_line_value(line, &value, error))
    return FALSE;
  if (letter == 'G' || letter == 'M')
    return hf_block_add_code(line->reader, block, letter, value, column, error);
  if (hf_block_has(block, letter))
    return hf_reader_refuse(line->reader, column, "keep one of them", error,
                            "%c stands twice on one line", letter);
  block->value[letter - 'A'] = value;
  block->column[letter - 'A'] = column;
  return TRUE;
}

static gboolean
read_item(HfLine *line, HfBlock *block, GError **error)
{
  char c = hf_line_peek(line);
  if (c == '(')
    return read_comment(line, block, error);
  if (hf_line_take(line, '#'))
    return read_setting(line, block, error);
  if (g_ascii_isalpha(c))
    return read_word(line, block, error);
  g_autofree char *one = g_strndup(line->text + line->at, 1), *shown = hf_seen_value(one);
  return hf_reader_refuse(line->reader, hf_line_here(line),
                          c == ';' ? "put comments in ( )" : "take it out", error,
                          "\"%s\" belongs to no word", shown);
}

/* N and at most five digits. */
static gboolean
read_number(HfLine *line, GError **error)
{
  guint column = hf_line_here(line), digits = 0;
  for (line->at++; g_ascii_isdigit(hf_line_peek(line)); line->at++)
    digits++;
  return (digits >= 1 && digits <= 5) ||
         hf_reader_refuse(line->reader, column, "number lines from N0 to N99999, or not at all",
                          error, "the line's number has %u digits", digits);
}

gboolean
hf_block_read(HfLine *line, HfBlock *block, GError **error)
{
  memset(block, 0, G_STRUCT_OFFSET(HfBlock, settings));
  block->n_settings = 0;
  block->comment = NULL;
  if (line->n > HF_LINE_LONGEST)
    return hf_reader_refuse(line->reader, HF_LINE_LONGEST + 1, "break it up", error,
                            "the line has more than %d characters", HF_LINE_LONGEST);
  if (hf_line_peek(line) == '/')
    return hf_reader_refuse(
        line->reader, hf_line_here(line), "take the / or the line out", error,
        "a switch at the machine says whether a line that begins with / is done");
  if (hf_line_peek(line) == 'n' && !read_number(line, error))
    return FALSE;
  while (hf_line_peek(line) != '\0' || line->at < line->n)
    if (!read_item(line, block, error))
      return FALSE;
  return TRUE;
}
