/* SPDX-License-Identifier: GPL-3.0-or-later
 * calls-out.c - what leaves the page: each output, all of them in one file, all of them in a
 * folder.
 *
 * All of it is one job on the sign that is shown (latest.c), made once, since the report carries
 * the digest of each output, and kept until the text changes.
 */
#include "page/page-private.h"
#include <archive.h>
#include <archive_entry.h>

enum { PIXELS = 1600 };

/* ---- a copy of what is to be made ---------------------------------------------------------- */

typedef enum { LIST, ONE, ZIP, FOLDER } Way;

typedef struct {
  Way way;
  HfKept *kept; /* own reference */
  HfLatest *latest;
  HfVersion *version;
  HfPaper paper;
  guint pixels;
  char *name;   /* ONE: of the output */
  char *folder; /* FOLDER: true path */
} Order;

struct HfKept {
  gint references; /* atomic */
  GMutex lock;
  guint64 revision;
  HfJob *job; /* (nullable) has been made */
};

HfKept *
hf_kept_new(void)
{
  HfKept *kept = g_new0(HfKept, 1);
  kept->references = 1;
  g_mutex_init(&kept->lock);
  return kept;
}

void
hf_kept_unref(HfKept *kept)
{
  if (kept == NULL || !g_atomic_int_dec_and_test(&kept->references))
    return;
  hf_job_free(kept->job);
  g_mutex_clear(&kept->lock);
  g_free(kept);
}

/* Outputs of an older text are of no use to anybody. Never waits: whoever makes some just now will
 * be thrown away by the next one. */
void
hf_kept_forget(HfKept *kept)
{
  if (!g_mutex_trylock(&kept->lock))
    return;
  g_clear_pointer(&kept->job, hf_job_free);
  g_mutex_unlock(&kept->lock);
}

static void
order_free(gpointer data)
{
  Order *order = data;
  hf_kept_unref(order->kept);
  hf_version_free(order->version);
  g_free(order->name);
  g_free(order->folder);
  g_free(order);
}

/* %NULL after a refusal: nothing is open. */
static Order *
new_order(HfPage *page, SoupServerMessage *message, Way way, const char *paper)
{
  if (page->document == NULL) {
    hf_answer_refusal(message, SOUP_STATUS_CONFLICT, "no recipe is open",
                      "open a recipe or begin a new sign");
    return NULL;
  }
  Order *order = g_new0(Order, 1);
  order->way = way;
  order->kept = page->kept;
  g_atomic_int_inc(&page->kept->references);
  order->latest = page->latest;
  order->version = hf_version_of(page);
  order->pixels = page->options->pixels > 0 ? page->options->pixels : PIXELS;
  order->paper = g_strcmp0(paper, "letter") == 0 ? HF_PAPER_LETTER : HF_PAPER_A4;
  return order;
}

/* Under the lock. */
static gboolean
make_job(const Order *order, const HfCancel *cancel, GError **error)
{
  HfKept *kept = order->kept;
  if (kept->job != NULL && kept->revision == order->version->revision &&
      kept->job->wishes.paper == order->paper)
    return TRUE;
  HfWishes wishes = {.pixels = order->pixels, .paper = order->paper};
  hf_wish_all(&wishes);
  g_autoptr(HfJob) job = hf_latest_job(order->latest, order->version, wishes, cancel, error);
  if (job == NULL || !hf_job_make(job, cancel, error))
    return FALSE;
  hf_job_free(kept->job);
  kept->job = g_steal_pointer(&job);
  kept->revision = order->version->revision;
  return TRUE;
}

/* ---- one, all ------------------------------------------------------------------------------ */

static GBytes *
one_output(const Order *order, const char **ret_type, GError **error)
{
  const GPtrArray *outputs = order->kept->job->outputs;
  for (guint i = 0; i < outputs->len; i++) {
    const HfOutput *output = g_ptr_array_index(outputs, i);
    if (strcmp(output->name, order->name) == 0) {
      *ret_type = output->type;
      return g_bytes_ref(output->bytes);
    }
  }
  hf_error_set(error, HF_ERROR_NOT_FOUND, NULL, "ask api/outputs for those that there are",
               "this sign has no such output");
  return NULL;
}

static GBytes *
list_outputs(const Order *order)
{
  const GPtrArray *outputs = order->kept->job->outputs;
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_open(json, NULL, '[');
  for (guint i = 0; i < outputs->len; i++) {
    const HfOutput *output = g_ptr_array_index(outputs, i);
    hf_json_line(json, NULL, '{');
    hf_json_text(json, "name", output->name);
    hf_json_text(json, "type", output->type);
    hf_json_text(json, "says", output->says);
    hf_json_text(json, "shown_by", output->shown_by);
    hf_json_number(json, "size", (double)g_bytes_get_size(output->bytes), 0);
    hf_json_close(json);
  }
  hf_json_close(json);
  return hf_json_finish(json);
}

static const char *
stem_of(const Order *order)
{
  return hf_job_sign(order->kept->job, 0)->recipe->name;
}

/* ---- in one file --------------------------------------------------------------------------- */

static gboolean
zip_one(struct archive *zip, const char *stem, const HfOutput *output)
{
  gsize length;
  const void *bytes = g_bytes_get_data(output->bytes, &length);
  g_autofree char *path = g_strconcat(stem, "/", output->name, NULL);
  struct archive_entry *entry = archive_entry_new();
  archive_entry_set_pathname_utf8(entry, path);
  archive_entry_set_size(entry, (la_int64_t)length);
  archive_entry_set_filetype(entry, AE_IFREG);
  archive_entry_set_perm(entry, 0644);
  gboolean good = archive_write_header(zip, entry) == ARCHIVE_OK &&
                  archive_write_data(zip, bytes, length) == (la_ssize_t)length;
  archive_entry_free(entry);
  return good;
}

static GBytes *
zip_outputs(const Order *order, const char **ret_type, GError **error)
{
  const GPtrArray *outputs = order->kept->job->outputs;
  gsize room = 1 << 16, used = 0;
  for (guint i = 0; i < outputs->len; i++)
    room += 1024 + 2 * g_bytes_get_size(((HfOutput *)g_ptr_array_index(outputs, i))->bytes);
  char *buffer = g_malloc(room);
  struct archive *zip = archive_write_new();
  gboolean good = archive_write_set_format_zip(zip) == ARCHIVE_OK &&
                  archive_write_open_memory(zip, buffer, room, &used) == ARCHIVE_OK;
  for (guint i = 0; i < outputs->len && good; i++)
    good = zip_one(zip, stem_of(order), g_ptr_array_index(outputs, i));
  good = archive_write_close(zip) == ARCHIVE_OK && good;
  archive_write_free(zip);
  *ret_type = "application/zip";
  if (good)
    return g_bytes_new_take(buffer, used);
  g_free(buffer);
  hf_error_set(error, HF_ERROR_BUG, NULL, "take the files one by one", "the zip was not made");
  return NULL;
}

/* ---- in a folder --------------------------------------------------------------------------- */

static GBytes *
write_folder(const Order *order, const HfCancel *cancel, GError **error)
{
  const HfJob *job = order->kept->job;
  g_auto(HfLeft) left = {0};
  if (!hf_job_write(job, order->folder, cancel, &left, error))
    return NULL;
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_line(json, NULL, '{');
  g_autofree char *folder = g_build_filename(order->folder, stem_of(order), NULL);
  hf_json_text(json, "folder", folder);
  hf_json_line(json, "files", '[');
  for (guint i = 0; i < job->outputs->len; i++) {
    const HfOutput *output = g_ptr_array_index(job->outputs, i);
    g_autofree char *path = g_build_filename(folder, output->name, NULL);
    hf_json_text(json, NULL, path);
  }
  hf_json_close(json);
  hf_json_text(json, "kept", left.kept);
  hf_json_bool(json, "half_done", left.half_done != NULL);
  hf_json_close(json);
  return hf_json_finish(json);
}

static GBytes *
carry_out(gpointer data, const char **ret_type, const HfCancel *cancel, GError **error)
{
  const Order *order = data;
  GBytes *bytes = NULL;
  g_mutex_lock(&order->kept->lock);
  if (make_job(order, cancel, error))
    bytes = order->way == LIST  ? list_outputs(order)
            : order->way == ONE ? one_output(order, ret_type, error)
            : order->way == ZIP ? zip_outputs(order, ret_type, error)
                                : write_folder(order, cancel, error);
  g_mutex_unlock(&order->kept->lock);
  return bytes;
}

/* ---- calls --------------------------------------------------------------------------------- */

static void
call_out(HfPage *page, SoupServerMessage *message, Way way, const char *name, GHashTable *query)
{
  const char *paper = query != NULL ? g_hash_table_lookup(query, "paper") : NULL;
  Order *order = new_order(page, message, way, paper);
  if (order == NULL)
    return;
  order->name = g_strdup(name);
  hf_later(page, message, carry_out, NULL, order, order_free);
}

void
hf_call_outputs(HfPage *page, const HfAsked *asked)
{
  call_out(page, asked->message, LIST, NULL, asked->query);
}

void
hf_call_output(HfPage *page, const HfAsked *asked)
{
  call_out(page, asked->message, ONE, asked->rest, asked->query);
}

void
hf_call_zip(HfPage *page, const HfAsked *asked)
{
  if (page->document != NULL) {
    g_autofree char *base = g_path_get_basename(hf_document_file(page->document));
    g_autoptr(GHashTable) params = g_hash_table_new(g_str_hash, g_str_equal);
    char *dot = strrchr(base, '.');
    if (dot != NULL && dot != base)
      *dot = '\0';
    g_autofree char *name = g_strconcat(base, ".zip", NULL);
    g_hash_table_insert(params, (gpointer) "filename", name);
    soup_message_headers_set_content_disposition(
        soup_server_message_get_response_headers(asked->message), "attachment", params);
  }
  call_out(page, asked->message, ZIP, NULL, asked->query);
}

/* Where the outputs would go must lie in the folders too, however far the way there exists. */
static char *
out_folder(const HfPage *page, const char *wanted, GError **error)
{
  g_autofree char *path =
      g_path_is_absolute(wanted) ? g_strdup(wanted) : g_build_filename(page->home, wanted, NULL);
  g_autofree char *folder = g_canonicalize_filename(path, NULL);
  g_autofree char *base = g_path_get_basename(hf_document_file(page->document));
  char *dot = strrchr(base, '.');
  if (dot != NULL && dot != base)
    *dot = '\0';
  g_autofree char *there = g_build_filename(folder, base, NULL);
  while (!g_file_test(there, G_FILE_TEST_EXISTS) && !g_file_test(there, G_FILE_TEST_IS_SYMLINK)) {
    char *up = g_path_get_dirname(there);
    g_free(there);
    there = up;
  }
  g_autofree char *found = hf_page_allowed(page, there, TRUE, error);
  return found != NULL ? g_steal_pointer(&folder) : NULL;
}

void
hf_call_make(HfPage *page, const HfAsked *asked)
{
  g_autoptr(GError) error = NULL;
  const char *wanted = hf_ask_text(asked->body, "folder");
  g_autofree char *folder = out_folder(page, wanted != NULL ? wanted : "out", &error);
  if (folder == NULL) {
    hf_answer_error(page, asked->message, 0, error);
    return;
  }
  Order *order = new_order(page, asked->message, FOLDER, hf_ask_text(asked->body, "paper"));
  order->folder = g_steal_pointer(&folder);
  hf_later(page, asked->message, carry_out, NULL, order, order_free);
}
