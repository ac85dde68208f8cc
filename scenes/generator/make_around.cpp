// Writes a large scene round a part: make-around STEP FOLDER [FEATURES].

#include <charconv>
#include <cstring>
#include <iostream>

#include <Message.hxx>
#include <Message_Messenger.hxx>

#include "around.h"

int main(int count, char** arguments) {
  std::size_t wanted = 540;
  bool understood = count == 3 || count == 4;
  if (count == 4) {
    const char* end = arguments[3] + std::strlen(arguments[3]);
    understood = std::from_chars(arguments[3], end, wanted).ptr == end;
  }
  if (!understood) {
    std::cerr << "usage: make-around STEP FOLDER [FEATURES]\n";
    return 2;
  }
  Message::DefaultMessenger()->ChangePrinters().Clear();  // the kernel's own chatter
  std::error_code error;
  std::filesystem::create_directories(arguments[2], error);
  const auto made = standpoint::scenes::make_scene_around(arguments[1], arguments[2], wanted);
  if (!made.failed.empty()) {
    std::cerr << made.failed << '\n';
    return 3;
  }
  std::cout << made.features << " features, " << made.hidden << " of them hidden\n";
  return 0;
}
