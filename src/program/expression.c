/* SPDX-License-Identifier: GPL-3.0-or-later
 * expression.c - one value of a line: NISTIR 6556, 3.3.2 and appendix E.
 *
 *   real value = number | #value | [expression] | function[expression] | atan[..]/[..]
 *
 * Powers bind first, then * / MOD, then + - OR XOR AND; what binds alike goes from left to right.
 */
#include "base/seen.h"
#include "program/program-private.h"
#include <string.h>

char
hf_line_peek(HfLine *line)
{
  while (line->at < line->n && (line->text[line->at] == ' ' || line->text[line->at] == '\t'))
    line->at++;
  return line->at < line->n ? (char)g_ascii_tolower(line->text[line->at]) : '\0';
}

gboolean
hf_line_take(HfLine *line, char c)
{
  if (hf_line_peek(line) != c || c == '\0')
    return FALSE;
  line->at++;
  return TRUE;
}

guint
hf_line_here(HfLine *line)
{
  (void)hf_line_peek(line);
  return line->at + 1;
}

/* A word of letters, blanks in it or not; nothing is passed when it is another. */
static gboolean
take_word(HfLine *line, const char *word)
{
  guint before = line->at;
  for (; *word != '\0'; word++)
    if (!hf_line_take(line, *word)) {
      line->at = before;
      return FALSE;
    }
  return TRUE;
}

static gboolean
refuse_here(HfLine *line, const char *fix, GError **error, const char *wanted)
{
  guint column = hf_line_here(line);
  if (line->at >= line->n)
    return hf_reader_refuse(line->reader, column, fix, error, "the line ends where %s belongs",
                            wanted);
  g_autofree char *rest = g_strndup(line->text + line->at, MIN(line->n - line->at, 12u));
  g_autofree char *shown = hf_seen_value(rest);
  return hf_reader_refuse(line->reader, column, fix, error, "\"%s\" stands where %s belongs", shown,
                          wanted);
}

/* ---- numbers -------------------------------------------------------------------------------- */

/* Its digits, blanks left out, into @buffer. */
static guint
gather_number(HfLine *line, char *buffer, guint *ret_digits)
{
  guint n = 0, digits = 0, points = 0;
  char c = hf_line_peek(line);
  if (c == '-' || c == '+') {
    buffer[n++] = c;
    line->at++;
  }
  for (c = hf_line_peek(line); g_ascii_isdigit(c) || (c == '.' && points == 0);
       c = hf_line_peek(line)) {
    digits += c != '.';
    points += c == '.';
    buffer[n++] = c;
    line->at++;
  }
  buffer[n] = '\0';
  *ret_digits = digits;
  return n;
}

/* Exact for up to 15 digits: both the whole number and the power of ten are, and one division
 * rounds once. */
static double
number_of(const char *digits)
{
  static const double ten_to[] = {1,   1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                  1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
  guint64 whole = 0;
  guint n = 0, behind = 0;
  gboolean point = FALSE;
  for (const char *c = digits; *c != '\0'; c++)
    if (*c == '.') {
      point = TRUE;
    } else if (g_ascii_isdigit(*c)) {
      if (++n > 15)
        return g_ascii_strtod(digits, NULL);
      whole = whole * 10 + (guint64)(*c - '0');
      behind += point ? 1 : 0;
    }
  double value = (double)whole / ten_to[behind];
  return *digits == '-' ? -value : value;
}

static gboolean
read_number(HfLine *line, double *ret_value, GError **error)
{
  char buffer[HF_LINE_LONGEST + 2];
  HfLine start = *line;
  guint digits;
  gather_number(line, buffer, &digits);
  if (digits == 0) {
    const char *fix =
        buffer[0] != '\0' && strchr("[#abcdefghijklmnopqrstuvwxyz", hf_line_peek(line))
            ? "write [0 - ...] for the negative of a value"
            : "write a number, such as 12.5";
    *line = start;
    return refuse_here(line, fix, error, "a number");
  }
  *ret_value = number_of(buffer);
  return TRUE;
}

/* ---- functions ------------------------------------------------------------------------------ */

typedef double (*Function)(double);

#define DEGREE (G_PI / 180)

static double
sine(double x)
{
  return sin(x * DEGREE);
}
static double
cosine(double x)
{
  return cos(x * DEGREE);
}
static double
tangent(double x)
{
  return tan(x * DEGREE);
}
static double
arc_sine(double x)
{
  return asin(x) / DEGREE;
}
static double
arc_cosine(double x)
{
  return acos(x) / DEGREE;
}
/* Halves go away from zero. */
static double
round_whole(double x)
{
  return x < 0 ? ceil(x - 0.5) : floor(x + 0.5);
}

static const struct {
  const char *word;
  Function of;
  double least, most; /* what it is of */
} functions[] = {
    {"abs", fabs, -INFINITY, INFINITY},
    {"acos", arc_cosine, -1, 1},
    {"asin", arc_sine, -1, 1},
    {"cos", cosine, -INFINITY, INFINITY},
    {"exp", exp, -INFINITY, INFINITY},
    {"fix", floor, -INFINITY, INFINITY},
    {"fup", ceil, -INFINITY, INFINITY},
    {"ln", log, G_MINDOUBLE, INFINITY},
    {"round", round_whole, -INFINITY, INFINITY},
    {"sin", sine, -INFINITY, INFINITY},
    {"sqrt", sqrt, 0, INFINITY},
    {"tan", tangent, -INFINITY, INFINITY},
};

static gboolean read_expression(HfLine *line, double *ret_value, GError **error);

static gboolean
keep(HfLine *line, guint column, double value, double *ret_value, GError **error)
{
  if (!isfinite(value))
    return hf_reader_refuse(line->reader, column, "change the value so that it has a result", error,
                            "this comes to no number");
  *ret_value = value + 0.0; /* no -0 */
  return TRUE;
}

static gboolean
read_arc_tangent(HfLine *line, guint column, double *ret_value, GError **error)
{
  double y = 0, x = 0;
  if (!read_expression(line, &y, error))
    return FALSE;
  if (!hf_line_take(line, '/'))
    return refuse_here(line, "atan has two values: atan[y]/[x]", error, "a /");
  if (!read_expression(line, &x, error))
    return FALSE;
  return keep(line, column, atan2(y, x) / DEGREE, ret_value, error);
}

static gboolean
read_function(HfLine *line, double *ret_value, GError **error)
{
  guint column = hf_line_here(line);
  if (take_word(line, "atan"))
    return read_arc_tangent(line, column, ret_value, error);
  for (gsize i = 0; i < G_N_ELEMENTS(functions); i++) {
    if (!take_word(line, functions[i].word))
      continue;
    double x = 0;
    if (!read_expression(line, &x, error))
      return FALSE;
    if (!(x >= functions[i].least && x <= functions[i].most)) {
      g_autofree char *figure = hf_reader_figure(x);
      return hf_reader_refuse(line->reader, column, "change the value so that it has a result",
                              error, "there is no %s of %s", functions[i].word, figure);
    }
    return keep(line, column, functions[i].of(x), ret_value, error);
  }
  return refuse_here(line,
                     "write a number, #, [ ] or one of abs, acos, asin, atan, cos, exp, fix, fup, "
                     "ln, round, sin, sqrt and tan",
                     error, "a value");
}

/* ---- parameters ----------------------------------------------------------------------------- */

gboolean
hf_line_parameter(HfLine *line, guint *ret_number, GError **error)
{
  guint column = hf_line_here(line);
  double number = 0;
  if (!hf_line_value(line, &number, error))
    return FALSE;
  if (!(fabs(number - rint(number)) <= 1e-4 && rint(number) >= 1 && rint(number) < HF_PARAMETERS)) {
    g_autofree char *figure = hf_reader_figure(number);
    return hf_reader_refuse(line->reader, column, "take a whole number from 1 to 5399", error,
                            "there is no parameter %s", figure);
  }
  *ret_number = (guint)rint(number);
  return TRUE;
}

static gboolean
read_parameter(HfLine *line, double *ret_value, GError **error)
{
  guint column = hf_line_here(line), number = 0;
  if (!hf_line_parameter(line, &number, error))
    return FALSE;
  if (hf_reader_system_parameter(line->reader, number, ret_value))
    return TRUE;
  if (!line->reader->set[number])
    return hf_reader_refuse(line->reader, column, "set it in the program before it is used", error,
                            "parameter %u was never set; its value stands in some machine", number);
  *ret_value = line->reader->parameters[number];
  return TRUE;
}

/* ---- operations ----------------------------------------------------------------------------- */

typedef enum { POWER, TIMES, OVER, MODULO, PLUS, MINUS, OR, XOR, AND, N_OPERATIONS } Operation;

static const struct {
  const char *sign;
  int binds;
} operations[N_OPERATIONS] = {
    [POWER] = {"**", 3},   [TIMES] = {"*", 2}, [OVER] = {"/", 2},
    [MODULO] = {"mod", 2}, [PLUS] = {"+", 1},  [MINUS] = {"-", 1},
    [OR] = {"or", 1},      [XOR] = {"xor", 1}, [AND] = {"and", 1},
};

static double
remainder_of(double a, double b)
{
  double rest = fmod(a, b); /* never below 0, as the report's own interpreter has it */
  return rest < 0 ? rest + fabs(b) : rest;
}

static double
outcome(Operation operation, double a, double b)
{
  switch (operation) {
  case POWER:
    return pow(a, b);
  case TIMES:
    return a * b;
  case OVER:
    return a / b;
  case MODULO:
    return remainder_of(a, b);
  case PLUS:
    return a + b;
  case MINUS:
    return a - b;
  case OR:
    return a != 0 || b != 0;
  case XOR:
    return (a != 0) != (b != 0);
  case AND:
  default:
    return a != 0 && b != 0;
  }
}

/* The operation that is next, if it binds at least so much; it is passed then. */
static gboolean
take_operation(HfLine *line, int least, Operation *ret_operation)
{
  for (Operation i = POWER; i < N_OPERATIONS; i++) {
    guint before = line->at;
    if (!take_word(line, operations[i].sign))
      continue;
    *ret_operation = i;
    if (operations[i].binds >= least)
      return TRUE;
    line->at = before;
    return FALSE;
  }
  return FALSE;
}

static gboolean
read_operations(HfLine *line, int least, double *ret_value, GError **error)
{
  double value = 0;
  Operation operation;
  if (!hf_line_value(line, &value, error))
    return FALSE;
  for (guint column = hf_line_here(line); take_operation(line, least, &operation);
       column = hf_line_here(line)) {
    double right = 0;
    if (!read_operations(line, operations[operation].binds + 1, &right, error))
      return FALSE;
    if (!keep(line, column, outcome(operation, value, right), &value, error))
      return FALSE;
  }
  *ret_value = value;
  return TRUE;
}

static gboolean
read_expression(HfLine *line, double *ret_value, GError **error)
{
  if (!hf_line_take(line, '['))
    return refuse_here(line, "put it in brackets [ ]", error, "a [");
  if (!read_operations(line, 1, ret_value, error))
    return FALSE;
  if (!hf_line_take(line, ']'))
    return refuse_here(line, "close the bracket", error, "an operation or a ]");
  return TRUE;
}

static gboolean
read_by_first(HfLine *line, double *ret_value, GError **error)
{
  char c = hf_line_peek(line);
  if (c == '[')
    return read_expression(line, ret_value, error);
  if (hf_line_take(line, '#'))
    return read_parameter(line, ret_value, error);
  return g_ascii_isalpha(c) ? read_function(line, ret_value, error)
                            : read_number(line, ret_value, error);
}

gboolean
hf_line_value(HfLine *line, double *ret_value, GError **error)
{
  if (line->depth == HF_EXPRESSION_DEEPEST)
    return hf_reader_refuse(line->reader, hf_line_here(line), "work it out in steps", error,
                            "more than %d values stand within each other", HF_EXPRESSION_DEEPEST);
  line->depth++;
  gboolean read = read_by_first(line, ret_value, error);
  line->depth--;
  return read;
}
