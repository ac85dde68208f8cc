// What no text of the page may carry as it is, as io/words/text.h has it for the program: control
// characters, marks that turn the direction of the text, and U+2028 and U+2029. Tab and line feed are
// white space here. Without "u": all of them lie in the first plane.
const unsafe =
  /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]/g;

/** A name or sentence as the page shows it: unsafe characters written out, as \x1b or \u202e. */
export function shown(text: string): string {
  return text.replace(unsafe, (c) => {
    const code = c.charCodeAt(0);
    if (c === "\r") return "\\r";
    return code < 0x100
      ? `\\x${code.toString(16).padStart(2, "0")}`
      : `\\u${code.toString(16).padStart(4, "0")}`;
  });
}
