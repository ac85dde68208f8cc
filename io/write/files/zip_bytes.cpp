#include "io/write/files/zip_bytes.h"

#include <algorithm>
#include <cstring>
#include <new>

#include <minizip/zip.h>

namespace standpoint {
namespace {

/// A file in memory, as minizip asks for one.
struct MemoryFile {
  std::string bytes;
  std::size_t at = 0;
  bool is_full = false;
};

MemoryFile& memory(voidpf stream) {
  return *static_cast<MemoryFile*>(stream);
}

voidpf open_file(voidpf opaque, const void*, int) {
  return opaque;
}

uLong read_file(voidpf, voidpf stream, void* into, uLong size) {
  MemoryFile& file = memory(stream);
  const std::size_t count = std::min<std::size_t>(size, file.bytes.size() - file.at);
  std::memcpy(into, file.bytes.data() + file.at, count);
  file.at += count;
  return count;
}

// noexcept by hand: minizip is C.
uLong write_file(voidpf, voidpf stream, const void* from, uLong size) {
  MemoryFile& file = memory(stream);
  try {
    if (file.bytes.size() < file.at + size) file.bytes.resize(file.at + size);
  } catch (const std::bad_alloc&) {
    file.is_full = true;
    return 0;
  }
  std::memcpy(file.bytes.data() + file.at, from, size);
  file.at += size;
  return size;
}

ZPOS64_T tell_file(voidpf, voidpf stream) {
  return memory(stream).at;
}

long seek_file(voidpf, voidpf stream, ZPOS64_T offset, int origin) {
  MemoryFile& file = memory(stream);
  const ZPOS64_T from = origin == ZLIB_FILEFUNC_SEEK_CUR   ? file.at
                        : origin == ZLIB_FILEFUNC_SEEK_END ? file.bytes.size()
                                                           : 0;
  if (from + offset > file.bytes.size()) return -1;
  file.at = from + offset;
  return 0;
}

int close_file(voidpf, voidpf) {
  return 0;
}

int error_of(voidpf, voidpf stream) {
  return memory(stream).is_full ? 1 : 0;
}

/// False where there is not enough memory.
bool add(zipFile zip, const OutFile& file) {
  zip_fileinfo info{};
  info.dosDate = 1U << 21U | 1U << 16U;  // 1980-01-01: month and day, year 0
  info.external_fa = 0100644UL << 16U;   // a file that its owner may write
  constexpr uLong kMadeOnUnix = 3U << 8U | 20U, kNameIsUtf8 = 1U << 11U;
  constexpr std::size_t kMostOf32Bits = 0xFFFFFFFE, kPiece = std::size_t{1} << 30U;
  const int is_large = file.bytes.size() > kMostOf32Bits / 2 ? 1 : 0;
  if (zipOpenNewFileInZip4_64(zip, file.name.c_str(), &info, nullptr, 0, nullptr, 0, nullptr,
                              Z_DEFLATED, Z_DEFAULT_COMPRESSION, 0, -MAX_WBITS, DEF_MEM_LEVEL,
                              Z_DEFAULT_STRATEGY, nullptr, 0, kMadeOnUnix, kNameIsUtf8,
                              is_large) != ZIP_OK)
    return false;
  bool is_good = true;
  for (std::size_t done = 0; is_good && done < file.bytes.size(); done += kPiece) {
    const auto count = static_cast<unsigned>(std::min(kPiece, file.bytes.size() - done));
    is_good = zipWriteInFileInZip(zip, file.bytes.data() + done, count) == ZIP_OK;
  }
  return zipCloseFileInZip(zip) == ZIP_OK && is_good;
}

}  // namespace

std::string zip_bytes(const std::vector<OutFile>& files) {
  MemoryFile file;
  zlib_filefunc64_def calls{open_file, read_file,  write_file, tell_file,
                            seek_file, close_file, error_of,   &file};
  const zipFile zip = zipOpen2_64("", APPEND_STATUS_CREATE, nullptr, &calls);
  bool is_good = zip != nullptr;
  for (std::size_t i = 0; is_good && i < files.size(); ++i) is_good = add(zip, files[i]);
  if (zip != nullptr) is_good = zipClose(zip, nullptr) == ZIP_OK && is_good;
  // All else that could fail is the disk, and there is none.
  if (!is_good) throw std::bad_alloc();
  return std::move(file.bytes);
}

}  // namespace standpoint
