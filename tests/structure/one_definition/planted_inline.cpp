// The check must find these: one name inline here and outright in planted_outright.cpp, and one
// outright in both.
namespace planted {
[[gnu::noinline]] inline int inline_here() {
  return 1;
}
int twice(int x);
int twice(int x) {
  return x + inline_here();
}
}  // namespace planted
