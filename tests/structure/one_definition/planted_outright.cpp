// See planted_inline.cpp.
namespace planted {
int inline_here();
int inline_here() {
  return 2;
}
int twice(int x);
int twice(int x) {
  return 2 * x;
}
}  // namespace planted
