/* SPDX-License-Identifier: GPL-3.0-or-later
 * journal.c - the records of one text on disk.
 *
 *   file    "holdfast journal 1\n" record record ...
 *   record  size of body (4 bytes) | kind (4) | checksum of kind and body (8) | body
 *   body    begin   the text
 *           change  place of the change before it (8) | joined (4) | at (4) | bytes taken out (4)
 *                   | bytes put in (4) | those taken out | those put in
 *           undo    how many changes go back (4);  redo: how many come again (4)
 *           keep    the digest, 64 letters
 *
 * Numbers are little-endian. The checksum is FNV-1a of 64 bits: it finds what was cut off or
 * damaged, it does not keep anybody out; the folder does that.
 */
#include "base/file.h"
#include "page/journal-private.h"
#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

static const char MAGIC[] = "holdfast journal 1\n";
enum {
  MAGIC_SIZE = sizeof MAGIC - 1,
  HEAD = 16,
  CHANGE_HEAD = 24,
  DIGEST = 64,
  MOST_BODY = 1 << 24, /* a text has at most 1 MB (recipe.h) */
};

typedef enum { BEGIN = 1, CHANGE, UNDO, REDO, KEEP } Kind;

struct HfJournal {
  char *file;
  int fd;
  guint64 end;   /* of the last good record */
  GString *text; /* NULL: nothing was begun */
  guint64 last;  /* place of the change that was made last and not undone; 0: none */
  GArray *ahead; /* guint64: places of changes that can be done again, the next one last */
  char kept[DIGEST + 1];
};

/* ---- bytes --------------------------------------------------------------------------------- */

static void
put32(GByteArray *bytes, guint32 value)
{
  guint32 le = GUINT32_TO_LE(value);
  g_byte_array_append(bytes, (const guint8 *)&le, sizeof le);
}

static void
put64(GByteArray *bytes, guint64 value)
{
  guint64 le = GUINT64_TO_LE(value);
  g_byte_array_append(bytes, (const guint8 *)&le, sizeof le);
}

static guint32
get32(const guint8 *at)
{
  guint32 le;
  memcpy(&le, at, sizeof le);
  return GUINT32_FROM_LE(le);
}

static guint64
get64(const guint8 *at)
{
  guint64 le;
  memcpy(&le, at, sizeof le);
  return GUINT64_FROM_LE(le);
}

static guint64
checksum(guint32 kind, const guint8 *body, gsize size)
{
  guint64 sum = 14695981039346656037u;
  for (int i = 0; i < 4; i++)
    sum = (sum ^ ((kind >> (8 * i)) & 0xff)) * 1099511628211u;
  for (gsize i = 0; i < size; i++)
    sum = (sum ^ body[i]) * 1099511628211u;
  return sum;
}

static gboolean
write_at(int fd, const guint8 *bytes, gsize size, guint64 at)
{
  while (size > 0) {
    gssize put = pwrite(fd, bytes, size, (off_t)at);
    if (put < 0 && errno == EINTR)
      continue;
    if (put <= 0)
      return FALSE;
    bytes += put;
    size -= (gsize)put;
    at += (guint64)put;
  }
  return TRUE;
}

static gboolean
read_at(int fd, guint8 *bytes, gsize size, guint64 at)
{
  while (size > 0) {
    gssize got = pread(fd, bytes, size, (off_t)at);
    if (got < 0 && errno == EINTR)
      continue;
    if (got <= 0)
      return FALSE;
    bytes += got;
    size -= (gsize)got;
    at += (guint64)got;
  }
  return TRUE;
}

/* ---- records ------------------------------------------------------------------------------- */

static gboolean
refuse(const HfJournal *journal, const char *doing, int code, GError **error)
{
  hf_error_set(error, HF_ERROR_IO, journal->file,
               code == ENOSPC || code == EDQUOT ? "make room on the disk; the sign is as it was"
                                                : "the sign is as it was",
               "can't %s the journal of changes: %s", doing, g_strerror(code));
  return FALSE;
}

/* The end moves only when the record is there whole. */
static gboolean
append(HfJournal *journal, Kind kind, const GByteArray *body, GError **error)
{
  g_autoptr(GByteArray) record = g_byte_array_sized_new(HEAD + body->len);
  put32(record, body->len);
  put32(record, kind);
  put64(record, checksum(kind, body->data, body->len));
  g_byte_array_append(record, body->data, body->len);
  if (!write_at(journal->fd, record->data, record->len, journal->end)) {
    int code = errno;
    (void)!ftruncate(journal->fd, (off_t)journal->end);
    return refuse(journal, "write", code, error);
  }
  journal->end += record->len;
  return TRUE;
}

/* The body of the record at @place, checked; %NULL when there is no good one. */
static GByteArray *
read_record(const HfJournal *journal, guint64 place, Kind *ret_kind)
{
  guint8 head[HEAD];
  if (!read_at(journal->fd, head, HEAD, place))
    return NULL;
  guint32 size = get32(head), kind = get32(head + 4);
  if (size > MOST_BODY || kind < BEGIN || kind > KEEP)
    return NULL;
  g_autoptr(GByteArray) body = g_byte_array_sized_new(size + 1);
  g_byte_array_set_size(body, size);
  if (!read_at(journal->fd, body->data, size, place + HEAD) ||
      checksum(kind, body->data, size) != get64(head + 8))
    return NULL;
  *ret_kind = (Kind)kind;
  return g_steal_pointer(&body);
}

/* A change as it stands in its body. */
typedef struct {
  guint64 before;
  gboolean joined;
  guint32 at, n_out, n_in;
  const char *out, *in; /* (borrowed) */
} Change;

static gboolean
read_change(const GByteArray *body, Change *change)
{
  if (body->len < CHANGE_HEAD)
    return FALSE;
  const guint8 *b = body->data;
  *change = (Change){get64(b),      get32(b + 8) != 0, get32(b + 12),
                     get32(b + 16), get32(b + 20),     (const char *)b + CHANGE_HEAD,
                     NULL};
  change->in = change->out + change->n_out;
  return (guint64)CHANGE_HEAD + change->n_out + change->n_in == body->len;
}

/* Takes out what the change says must be there; %FALSE when it is not. */
static gboolean
exchange(GString *text, guint32 at, const char *out, guint32 n_out, const char *in, guint32 n_in)
{
  if ((guint64)at + n_out > text->len || memcmp(text->str + at, out, n_out) != 0)
    return FALSE;
  g_string_erase(text, at, n_out);
  g_string_insert_len(text, at, in, n_in);
  return TRUE;
}

/* ---- going back and forth ------------------------------------------------------------------ */

static gboolean
change_at(const HfJournal *journal, guint64 place, GByteArray **ret_body, Change *ret_change)
{
  Kind kind;
  g_autoptr(GByteArray) body = read_record(journal, place, &kind);
  if (body == NULL || kind != CHANGE || !read_change(body, ret_change))
    return FALSE;
  *ret_body = g_steal_pointer(&body);
  return TRUE;
}

static gboolean
step_back(HfJournal *journal, gboolean *ret_joined)
{
  g_autoptr(GByteArray) body = NULL;
  Change change;
  if (journal->last == 0 || !change_at(journal, journal->last, &body, &change) ||
      !exchange(journal->text, change.at, change.in, change.n_in, change.out, change.n_out))
    return FALSE;
  g_array_append_val(journal->ahead, journal->last);
  journal->last = change.before;
  *ret_joined = change.joined;
  return TRUE;
}

static gboolean
step_forth(HfJournal *journal)
{
  g_autoptr(GByteArray) body = NULL;
  Change change;
  if (journal->ahead->len == 0)
    return FALSE;
  guint64 place = g_array_index(journal->ahead, guint64, journal->ahead->len - 1);
  if (!change_at(journal, place, &body, &change) ||
      !exchange(journal->text, change.at, change.out, change.n_out, change.in, change.n_in))
    return FALSE;
  g_array_set_size(journal->ahead, journal->ahead->len - 1);
  journal->last = place;
  return TRUE;
}

/* Is the next change to come again one step with the one before it? */
static gboolean
next_is_joined(const HfJournal *journal)
{
  g_autoptr(GByteArray) body = NULL;
  Change change;
  return journal->ahead->len > 0 &&
         change_at(journal, g_array_index(journal->ahead, guint64, journal->ahead->len - 1), &body,
                   &change) &&
         change.joined;
}

gboolean
hf_journal_can_undo(const HfJournal *journal)
{
  return journal->last != 0;
}

gboolean
hf_journal_can_redo(const HfJournal *journal)
{
  return journal->ahead->len > 0;
}

static gboolean
note_steps(HfJournal *journal, Kind kind, guint32 n, GError **error)
{
  g_autoptr(GByteArray) body = g_byte_array_new();
  put32(body, n);
  return append(journal, kind, body, error);
}

gboolean
hf_journal_undo(HfJournal *journal, GError **error)
{
  guint32 n = 0;
  gboolean joined = TRUE;
  while (joined && journal->last != 0) {
    if (!step_back(journal, &joined))
      break;
    n++;
  }
  if (n == 0)
    return journal->last == 0 || refuse(journal, "read", EIO, error);
  if (note_steps(journal, UNDO, n, error))
    return TRUE;
  while (n-- > 0)
    step_forth(journal);
  return FALSE;
}

gboolean
hf_journal_redo(HfJournal *journal, GError **error)
{
  guint32 n = 0;
  gboolean joined;
  do {
    if (!step_forth(journal))
      break;
    n++;
  } while (next_is_joined(journal));
  if (n == 0)
    return journal->ahead->len == 0 || refuse(journal, "read", EIO, error);
  if (note_steps(journal, REDO, n, error))
    return TRUE;
  while (n-- > 0)
    step_back(journal, &joined);
  return FALSE;
}

/* ---- changing ------------------------------------------------------------------------------ */

const char *
hf_journal_text(const HfJournal *journal, gsize *ret_length)
{
  *ret_length = journal->text != NULL ? journal->text->len : 0;
  return journal->text != NULL ? journal->text->str : "";
}

gboolean
hf_journal_is_new(const HfJournal *journal)
{
  return journal->text == NULL;
}

gboolean
hf_journal_begin(HfJournal *journal, const char *text, gsize length, GError **error)
{
  g_return_val_if_fail(journal->text == NULL, FALSE);
  g_autoptr(GByteArray) body = g_byte_array_new();
  g_byte_array_append(body, (const guint8 *)text, (guint)length);
  if (!append(journal, BEGIN, body, error))
    return FALSE;
  journal->text = g_string_new_len(text, (gssize)length);
  return TRUE;
}

/* What is the same at both ends need not be written. */
static void
find_difference(const GString *now, const char *text, gsize length, Change *change)
{
  gsize head = 0, tail = 0, most = MIN(now->len, length);
  while (head < most && now->str[head] == text[head])
    head++;
  while (tail < most - head && now->str[now->len - 1 - tail] == text[length - 1 - tail])
    tail++;
  change->at = (guint32)head;
  change->n_out = (guint32)(now->len - head - tail);
  change->n_in = (guint32)(length - head - tail);
  change->out = now->str + head;
  change->in = text + head;
}

gboolean
hf_journal_change(HfJournal *journal, const char *text, gsize length, gboolean joined,
                  GError **error)
{
  g_return_val_if_fail(journal->text != NULL && length < MOST_BODY / 4, FALSE);
  Change change = {journal->last, joined && journal->last != 0, 0, 0, 0, NULL, NULL};
  find_difference(journal->text, text, length, &change);
  if (change.n_in == 0 && change.n_out == 0)
    return TRUE;
  g_autoptr(GByteArray) body = g_byte_array_new();
  put64(body, change.before);
  put32(body, change.joined ? 1 : 0);
  put32(body, change.at);
  put32(body, change.n_out);
  put32(body, change.n_in);
  g_byte_array_append(body, (const guint8 *)change.out, change.n_out);
  g_byte_array_append(body, (const guint8 *)change.in, change.n_in);
  guint64 place = journal->end;
  if (!append(journal, CHANGE, body, error))
    return FALSE;
  g_string_erase(journal->text, change.at, change.n_out);
  g_string_insert_len(journal->text, change.at, change.in, change.n_in);
  journal->last = place;
  g_array_set_size(journal->ahead, 0);
  return TRUE;
}

const char *
hf_journal_kept(const HfJournal *journal)
{
  return journal->kept[0] != '\0' ? journal->kept : NULL;
}

gboolean
hf_journal_keep(HfJournal *journal, const char *digest, GError **error)
{
  g_return_val_if_fail(strlen(digest) == DIGEST, FALSE);
  if (strcmp(digest, journal->kept) == 0)
    return TRUE;
  g_autoptr(GByteArray) body = g_byte_array_new();
  g_byte_array_append(body, (const guint8 *)digest, DIGEST);
  if (!append(journal, KEEP, body, error))
    return FALSE;
  memcpy(journal->kept, digest, DIGEST + 1);
  return TRUE;
}

void
hf_journal_sync(HfJournal *journal)
{
  (void)fdatasync(journal->fd);
}

/* ---- opening ------------------------------------------------------------------------------- */

/* All of them or none. */
static gboolean
again_steps(HfJournal *journal, Kind kind, const GByteArray *body)
{
  if (body->len != 4 || journal->text == NULL)
    return FALSE;
  gboolean joined;
  guint32 wanted = get32(body->data), n = 0;
  while (n < wanted && (kind == UNDO ? step_back(journal, &joined) : step_forth(journal)))
    n++;
  if (n == wanted)
    return TRUE;
  while (n-- > 0)
    (void)(kind == UNDO ? step_forth(journal) : step_back(journal, &joined));
  return FALSE;
}

static gboolean
again_change(HfJournal *journal, guint64 place, const GByteArray *body)
{
  Change change;
  if (journal->text == NULL || !read_change(body, &change) || change.before != journal->last ||
      !exchange(journal->text, change.at, change.out, change.n_out, change.in, change.n_in))
    return FALSE;
  journal->last = place;
  g_array_set_size(journal->ahead, 0);
  return TRUE;
}

/* Does to the text once more what the record at @place did. */
static gboolean
again(HfJournal *journal, guint64 place, Kind kind, const GByteArray *body)
{
  switch (kind) {
  case BEGIN:
    if (journal->text != NULL)
      return FALSE;
    journal->text = g_string_new_len((const char *)body->data, body->len);
    return TRUE;
  case CHANGE:
    return again_change(journal, place, body);
  case UNDO:
  case REDO:
    return again_steps(journal, kind, body);
  case KEEP:
    if (body->len != DIGEST)
      return FALSE;
    memcpy(journal->kept, body->data, DIGEST);
    return TRUE;
  }
  return FALSE;
}

static void
replay(HfJournal *journal)
{
  for (;;) {
    Kind kind;
    g_autoptr(GByteArray) body = read_record(journal, journal->end, &kind);
    if (body == NULL || !again(journal, journal->end, kind, body))
      return;
    journal->end += HEAD + body->len;
  }
}

/* From @from on to the end of file @to, and on the disk. */
static gboolean
copy_rest(int fd, guint64 from, guint64 size, int to, guint64 at)
{
  g_autofree guint8 *bytes = g_malloc(MOST_BODY);
  for (gsize piece; from < size; from += piece, at += piece) {
    piece = (gsize)MIN(size - from, MOST_BODY);
    if (!read_at(fd, bytes, piece, from) || !write_at(to, bytes, piece, at))
      return FALSE;
  }
  return fsync(to) == 0;
}

/* Behind what was put aside before; all of it, or the file is as it was. */
static gboolean
put_aside(const HfJournal *journal, guint64 size)
{
  struct stat info;
  g_autofree char *aside = g_strconcat(journal->file, ".damaged", NULL);
  int fd = open(aside, O_RDWR | O_CREAT | O_CLOEXEC, 0600);
  if (fd < 0)
    return FALSE;
  gboolean known = fstat(fd, &info) == 0;
  gboolean done = known && copy_rest(journal->fd, journal->end, size, fd, (guint64)info.st_size);
  int code = errno;
  if (known && !done && ftruncate(fd, info.st_size) == 0 && info.st_size == 0)
    g_unlink(aside);
  close(fd);
  errno = code;
  return done;
}

/* What stands behind the last good record is put aside for whoever can make something of it. Only
 * when its copy is safe is it cut off. */
static gboolean
cut_off_rest(HfJournal *journal, GError **error)
{
  struct stat info;
  if (fstat(journal->fd, &info) != 0)
    return refuse(journal, "read", errno, error);
  guint64 size = (guint64)info.st_size;
  if (size <= journal->end)
    return TRUE;
  if (!put_aside(journal, size))
    return refuse(journal, "put aside what is damaged in", errno, error);
  return ftruncate(journal->fd, (off_t)journal->end) == 0 || refuse(journal, "write", errno, error);
}

static gboolean
lock(HfJournal *journal, GError **error)
{
  if (flock(journal->fd, LOCK_EX | LOCK_NB) == 0)
    return TRUE;
  if (errno != EWOULDBLOCK)
    return refuse(journal, "lock", errno, error);
  hf_error_set(error, HF_ERROR_NO_ROOM, NULL,
               "go on there, or end it with Ctrl-C where it was started",
               "another page has this recipe open");
  return FALSE;
}

static gboolean
begin_file(HfJournal *journal, GError **error)
{
  char magic[MAGIC_SIZE];
  struct stat info;
  if (fstat(journal->fd, &info) != 0)
    return refuse(journal, "read", errno, error);
  journal->end = MAGIC_SIZE;
  gsize n = (gsize)MIN(info.st_size, MAGIC_SIZE);
  gboolean ours = read_at(journal->fd, (guint8 *)magic, n, 0) && memcmp(magic, MAGIC, n) == 0;
  if (ours && n < MAGIC_SIZE) /* new, or killed while it was made */
    return (ftruncate(journal->fd, 0) == 0 &&
            write_at(journal->fd, (const guint8 *)MAGIC, MAGIC_SIZE, 0)) ||
           refuse(journal, "write", errno, error);
  if (ours)
    return TRUE;
  hf_error_set(error, HF_ERROR_IO, journal->file, "move it away and open the recipe again",
               "this is no journal that this holdfast can read");
  return FALSE;
}

HfJournal *
hf_journal_open(const char *file, GError **error)
{
  g_autoptr(HfJournal) journal = g_new0(HfJournal, 1);
  journal->file = g_strdup(file);
  journal->ahead = g_array_new(FALSE, FALSE, sizeof(guint64));
  journal->fd = open(file, O_RDWR | O_CREAT | O_CLOEXEC, 0600);
  if (journal->fd < 0) {
    refuse(journal, "open", errno, error);
    return NULL;
  }
  if (!lock(journal, error) || !begin_file(journal, error))
    return NULL;
  replay(journal);
  if (!cut_off_rest(journal, error))
    return NULL;
  return g_steal_pointer(&journal);
}

void
hf_journal_close(HfJournal *journal)
{
  if (journal == NULL)
    return;
  if (journal->fd >= 0)
    close(journal->fd);
  if (journal->text != NULL)
    g_string_free(journal->text, TRUE);
  g_array_unref(journal->ahead);
  g_free(journal->file);
  g_free(journal);
}
