/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/journal.h"

#include <string.h>

#define HEADER_BYTES 28
#define PAGE_MIN 512
#define PAGE_MAX 65536
#define SECTOR_MIN 32
#define SECTOR_MAX 65536
#define PENDING_BYTE 0x40000000 /* the page it lies in is never used */
#define COUNTER_AT 24           /* of a document: its change counter */
#define UNTIL_THE_END 0xffffffff

static const guint8 magic[8] = { 0xd9, 0xd5, 0x05, 0xf9, 0x20, 0xa1, 0x63, 0xd7 };

/* One pass over the records of a journal. */
typedef struct
{
  const guint8 *bytes;
  gsize n;
  gsize at;
  guint32 page_bytes;
  guint32 sector_bytes;
  guint32 nonce; /* of the present header */
  guint32 left;  /* records of the present header still to come */
  guint32 pages; /* of the document before the write */
} Journal;

static guint32
big_endian (const guint8 *bytes)
{
  return (guint32) bytes[0] << 24 | (guint32) bytes[1] << 16 | (guint32) bytes[2] << 8 | bytes[3];
}

static gboolean
is_power_within (guint32 value, guint32 min, guint32 max)
{
  return value >= min && value <= max && (value & (value - 1)) == 0;
}

static gsize
record_bytes (const Journal *journal)
{
  return 4 + (gsize) journal->page_bytes + 4;
}

/* Headers lie at the beginning of sectors. FALSE: no more of them. */
static gboolean
next_header (Journal *journal)
{
  const guint8 *header;
  gboolean first = journal->at == 0;

  if (!first)
    journal->at
      = (journal->at + journal->sector_bytes - 1) / journal->sector_bytes * journal->sector_bytes;
  if (journal->at + HEADER_BYTES > journal->n)
    return FALSE;
  header = journal->bytes + journal->at;
  if (memcmp (header, magic, sizeof magic) != 0)
    return FALSE;
  journal->left = big_endian (header + 8);
  journal->nonce = big_endian (header + 12);
  if (first)
    {
      journal->pages = big_endian (header + 16);
      journal->sector_bytes = big_endian (header + 20);
      journal->page_bytes = big_endian (header + 24);
      if (!is_power_within (journal->page_bytes, PAGE_MIN, PAGE_MAX)
          || !is_power_within (journal->sector_bytes, SECTOR_MIN, SECTOR_MAX))
        return FALSE;
    }
  if (journal->at + journal->sector_bytes > journal->n)
    return FALSE;
  journal->at += journal->sector_bytes;
  if (journal->left == UNTIL_THE_END)
    journal->left = (guint32) ((journal->n - journal->at) / record_bytes (journal));
  return TRUE;
}

static gboolean
sum_is_right (const Journal *journal, const guint8 *page, guint32 sum)
{
  guint32 is = journal->nonce;

  for (int i = (int) journal->page_bytes - 200; i > 0; i -= 200)
    is += page[i];
  return is == sum;
}

/* The next page that can be trusted; NULL at the end, which is also where the write of the
 * journal itself was cut off. */
static const guint8 *
next_page (Journal *journal, guint32 *number)
{
  const guint8 *record;

  while (journal->left == 0)
    if (!next_header (journal))
      return NULL;
  if (journal->n - journal->at < record_bytes (journal))
    return NULL;
  record = journal->bytes + journal->at;
  *number = big_endian (record);
  if (*number == 0 || *number == PENDING_BYTE / journal->page_bytes + 1
      || !sum_is_right (journal, record + 4, big_endian (record + 4 + journal->page_bytes)))
    return NULL;
  journal->at += record_bytes (journal);
  journal->left--;
  return record + 4;
}

/* The name of a journal that several databases share stands at the very end, before its
 * length, a sum and the magic. Nobody writes one beside a document of ours. */
static gboolean
names_another (const guint8 *journal, gsize n)
{
  return n >= 16 && memcmp (journal + n - 8, magic, 8) == 0 && big_endian (journal + n - 16) > 0;
}

/* Every write raises the change counter of page 1 by one, and page 1 is the first that we let
 * go into a journal. So the document is the journal's when it has the counter that the journal
 * has kept, or the next one. Counters begin at random (store.c), so another document, or a
 * copy of this one from another day, has another. */
static gboolean
belongs (Journal journal, const GByteArray *document)
{
  const guint8 *page;
  guint32 number;
  gboolean any = FALSE;

  if (document->len < COUNTER_AT + 8)
    return FALSE;
  while ((page = next_page (&journal, &number)) != NULL)
    {
      any = TRUE;
      if (number == 1)
        {
          guint32 kept = big_endian (page + COUNTER_AT);
          guint32 is = big_endian (document->data + COUNTER_AT);

          return is == kept || is == kept + 1;
        }
    }
  /* Without page 1 that page of the document is untouched, and tells its size. */
  return !any || big_endian (document->data + COUNTER_AT + 4) == journal.pages;
}

DewJournalVerdict
dew_journal_roll_back (GByteArray *document, const guint8 *journal, gsize n)
{
  Journal reader = { .bytes = journal, .n = n };
  const guint8 *page;
  guint32 number;
  gsize size, before;

  g_return_val_if_fail (document != NULL && (journal != NULL || n == 0), DEW_JOURNAL_COLD);

  if (n == 0 || journal[0] == 0)
    return DEW_JOURNAL_COLD;
  if (names_another (journal, n))
    return DEW_JOURNAL_NAMES_ANOTHER;
  if (!next_header (&reader))
    return DEW_JOURNAL_COLD;
  size = (gsize) reader.pages * reader.page_bytes;
  /* A write never makes a document shorter than its journal could restore. */
  if (!belongs (reader, document) || size > (gsize) document->len + n)
    return DEW_JOURNAL_OF_ANOTHER;

  before = document->len;
  g_byte_array_set_size (document, (guint) size);
  if (size > before)
    memset (document->data + before, 0, size - before);
  while ((page = next_page (&reader, &number)) != NULL)
    if (number <= reader.pages)
      memcpy (document->data + (gsize) (number - 1) * reader.page_bytes, page, reader.page_bytes);
  return DEW_JOURNAL_PLAYED;
}
