#include "io/write/page/packed_text.h"

#include <cstdint>
#include <new>

#include <zlib.h>

namespace standpoint {
namespace {

std::string deflated(const std::string& bytes) {
  z_stream stream{};
  // Raw, without header and checksum; of the levels 9 gives the least.
  if (deflateInit2(&stream, 9, Z_DEFLATED, -MAX_WBITS, 9, Z_DEFAULT_STRATEGY) != Z_OK)
    throw std::bad_alloc();
  std::string packed;
  std::string piece(std::size_t{1} << 20, '\0');
  std::size_t taken = 0;
  int status = Z_OK;
  while (status == Z_OK) {
    // zlib counts in 32 bits: large input goes in pieces.
    const std::size_t room = std::min<std::size_t>(bytes.size() - taken, std::size_t{1} << 30);
    stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data() + taken));
    stream.avail_in = static_cast<uInt>(room);
    stream.next_out = reinterpret_cast<Bytef*>(piece.data());
    stream.avail_out = static_cast<uInt>(piece.size());
    status = deflate(&stream, taken + room == bytes.size() ? Z_FINISH : Z_NO_FLUSH);
    taken += room - stream.avail_in;
    packed.append(piece, 0, piece.size() - stream.avail_out);
  }
  deflateEnd(&stream);
  return packed;
}

/// The digits '(' to '~' without '<' and '\\': 87 - 2 characters.
char digit(std::uint32_t value) {
  const auto c = static_cast<char>('(' + value);
  if (c < '<') return c;
  return static_cast<char>(c + (c + 1 < '\\' ? 1 : 2));
}

}  // namespace

std::string packed_text(const std::string& bytes) {
  const std::string packed = deflated(bytes);
  std::string text = std::to_string(packed.size()) + ' ';
  text.reserve(text.size() + packed.size() / 4 * 5 + 5);
  for (std::size_t i = 0; i < packed.size(); i += 4) {
    std::uint32_t four = 0;
    for (std::size_t k = 0; k < 4; ++k)
      four = four << 8 | (i + k < packed.size() ? static_cast<unsigned char>(packed[i + k]) : 0u);
    char five[5];
    for (int k = 4; k >= 0; --k, four /= 85) five[k] = digit(four % 85);
    text.append(five, 5);
  }
  return text;
}

}  // namespace standpoint
