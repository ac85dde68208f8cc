// calls_point_down NM FILE
//
// FILE lists object files, one a line. Fails where one of them calls a function that a room further
// on defines: includes point down, but a header may be defined higher up than it stands.

#include <cstdio>
#include <fstream>
#include <iostream>
#include <string>

#include "upward_calls.h"

namespace {

/// Adds what `nm` says of one object to the listing; false where it cannot be asked.
bool add_listing(const std::string& nm, const std::string& object, std::string& listing) {
  FILE* pipe = popen(("'" + nm + "' -A -P -g '" + object + "'").c_str(), "r");
  if (pipe == nullptr) return false;
  char piece[4096];
  while (const std::size_t got = std::fread(piece, 1, sizeof piece, pipe))
    listing.append(piece, got);
  return pclose(pipe) == 0;
}

}  // namespace

int main(int count, char** arguments) {
  if (count != 3) {
    std::cerr << "calls_point_down NM FILE\n";
    return 2;
  }
  std::string listing;
  std::ifstream objects(arguments[2]);
  for (std::string object; std::getline(objects, object);) {
    if (add_listing(arguments[1], object, listing)) continue;
    std::cerr << "cannot list " << object << '\n';
    return 2;
  }
  const standpoint::house::Calls calls = standpoint::house::calls_between_rooms(listing);
  for (const std::string& sentence : calls.upward) std::cout << sentence << '\n';
  std::cout << calls.between_rooms << " names taken from another room, " << calls.upward.size()
            << " of them upward\n";
  return calls.upward.empty() && calls.between_rooms > 0 ? 0 : 1;
}
