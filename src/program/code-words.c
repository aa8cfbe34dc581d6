/* SPDX-License-Identifier: GPL-3.0-or-later
 * code-words.c - the G and M words there are, and which of them can't stand on one line: Table 4 of
 * NISTIR 6556.
 */
#include "program/program-private.h"

typedef struct {
  char letter;
  int code; /* tenths */
  HfGroup group;
  const char *refused; /* (nullable) why it is not done */
} Word;

#define NO_DRILLING   "drilling cycles are not read: write out the moves"
#define NO_HOME       "where home is no program says: move to a place of your own"
#define NO_CORRECTION "the path must hold its own kerf: G40, and a path moved by half a kerf"

static const Word words[] = {
    {'G', 0, HF_GROUP_MOTION, NULL},
    {'G', 10, HF_GROUP_MOTION, NULL},
    {'G', 20, HF_GROUP_MOTION, NULL},
    {'G', 30, HF_GROUP_MOTION, NULL},
    {'G', 40, HF_GROUP_ONCE, NULL},
    {'G', 100, HF_GROUP_ONCE, NULL},
    {'G', 170, HF_GROUP_PLANE, NULL},
    {'G', 180, HF_GROUP_PLANE, NULL},
    {'G', 190, HF_GROUP_PLANE, NULL},
    {'G', 200, HF_GROUP_UNITS, NULL},
    {'G', 210, HF_GROUP_UNITS, NULL},
    {'G', 280, HF_GROUP_ONCE, NO_HOME},
    {'G', 300, HF_GROUP_ONCE, NO_HOME},
    {'G', 382, HF_GROUP_MOTION, "where a probe stops no program says: take it out"},
    {'G', 400, HF_GROUP_RADIUS, NULL},
    {'G', 410, HF_GROUP_RADIUS, NO_CORRECTION},
    {'G', 420, HF_GROUP_RADIUS, NO_CORRECTION},
    {'G', 430, HF_GROUP_LENGTH, NULL},
    {'G', 490, HF_GROUP_LENGTH, NULL},
    {'G', 530, HF_GROUP_ONCE, NULL},
    {'G', 540, HF_GROUP_SYSTEM, NULL},
    {'G', 550, HF_GROUP_SYSTEM, NULL},
    {'G', 560, HF_GROUP_SYSTEM, NULL},
    {'G', 570, HF_GROUP_SYSTEM, NULL},
    {'G', 580, HF_GROUP_SYSTEM, NULL},
    {'G', 590, HF_GROUP_SYSTEM, NULL},
    {'G', 591, HF_GROUP_SYSTEM, NULL},
    {'G', 592, HF_GROUP_SYSTEM, NULL},
    {'G', 593, HF_GROUP_SYSTEM, NULL},
    {'G', 610, HF_GROUP_PATH, NULL},
    {'G', 611, HF_GROUP_PATH, NULL},
    {'G', 640, HF_GROUP_PATH, NULL},
    {'G', 800, HF_GROUP_MOTION, NULL},
    {'G', 810, HF_GROUP_MOTION, NO_DRILLING},
    {'G', 820, HF_GROUP_MOTION, NO_DRILLING},
    {'G', 830, HF_GROUP_MOTION, NO_DRILLING},
    {'G', 840, HF_GROUP_MOTION, NO_DRILLING},
    {'G', 850, HF_GROUP_MOTION, NO_DRILLING},
    {'G', 860, HF_GROUP_MOTION, NO_DRILLING},
    {'G', 870, HF_GROUP_MOTION, NO_DRILLING},
    {'G', 880, HF_GROUP_MOTION, NO_DRILLING},
    {'G', 890, HF_GROUP_MOTION, NO_DRILLING},
    {'G', 900, HF_GROUP_DISTANCE, NULL},
    {'G', 910, HF_GROUP_DISTANCE, NULL},
    {'G', 920, HF_GROUP_ONCE, NULL},
    {'G', 921, HF_GROUP_ONCE, NULL},
    {'G', 922, HF_GROUP_ONCE, NULL},
    {'G', 923, HF_GROUP_ONCE, NULL},
    {'G', 930, HF_GROUP_FEED_MODE, NULL},
    {'G', 940, HF_GROUP_FEED_MODE, NULL},
    {'G', 980, HF_GROUP_RETURN, NULL},
    {'G', 990, HF_GROUP_RETURN, NULL},
    {'M', 0, HF_GROUP_STOP, NULL},
    {'M', 10, HF_GROUP_STOP, NULL},
    {'M', 20, HF_GROUP_STOP, NULL},
    {'M', 300, HF_GROUP_STOP, NULL},
    {'M', 600, HF_GROUP_STOP, NULL},
    {'M', 30, HF_GROUP_SPINDLE, NULL},
    {'M', 40, HF_GROUP_SPINDLE, NULL},
    {'M', 50, HF_GROUP_SPINDLE, NULL},
    {'M', 60, HF_GROUP_TOOL, NULL},
    {'M', 70, HF_GROUP_COOLANT, NULL},
    {'M', 80, HF_GROUP_COOLANT, NULL},
    {'M', 90, HF_GROUP_COOLANT, NULL},
    {'M', 480, HF_GROUP_OVERRIDE, NULL},
    {'M', 490, HF_GROUP_OVERRIDE, NULL},
};

/* Nearest by number within the 0.0001 that the report allows. */
static const Word *
find_word(char letter, double number)
{
  for (gsize i = 0; i < G_N_ELEMENTS(words); i++)
    if (words[i].letter == letter && fabs(words[i].code - number * 10) <= 1e-3)
      return &words[i];
  return NULL;
}

static gboolean
refuse_second(const HfReader *reader, const HfCode *first, const Word *word, guint column,
              GError **error)
{
  g_autofree char *one = hf_reader_figure(first->code / 10.0);
  g_autofree char *other = hf_reader_figure(word->code / 10.0);
  return hf_reader_refuse(reader, column, "keep one of them", error,
                          "%c%s and %c%s are of one group, of which a line has one word",
                          word->letter, one, word->letter, other);
}

static gboolean
refuse_word(const HfReader *reader, char letter, double number, guint column, const char *why,
            GError **error)
{
  g_autofree char *figure = hf_reader_figure(number);
  return why != NULL
             ? hf_reader_refuse(reader, column, why, error, "%c%s is not read", letter, figure)
             : hf_reader_refuse(reader, column, "docs/program.md lists what is read", error,
                                "there is no %c%s that is read here", letter, figure);
}

gboolean
hf_block_add_code(const HfReader *reader, HfBlock *block, char letter, double number, guint column,
                  GError **error)
{
  const Word *word = find_word(letter, number);
  if (word == NULL)
    return refuse_word(reader, letter, number, column, NULL, error);
  HfCode *place = &block->of[word->group];
  if (place->column != 0)
    return refuse_second(reader, place, word, column, error);
  if (letter == 'M' && ++block->n_m > HF_M_WORDS_MOST)
    return hf_reader_refuse(reader, column, "put them on two lines", error,
                            "a line has at most %d M words", HF_M_WORDS_MOST);
  if (word->refused != NULL)
    return refuse_word(reader, letter, number, column, word->refused, error);
  *place = (HfCode){word->code, column};
  return TRUE;
}
