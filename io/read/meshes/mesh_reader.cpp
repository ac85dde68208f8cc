#include "io/read/meshes/mesh_reader.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <exception>
#include <limits>
#include <new>
#include <utility>

#include <assimp/DefaultIOSystem.h>
#include <assimp/config.h>
#include <assimp/scene.h>
#include <fmt/format.h>
#include <assimp/DefaultLogger.hpp>
#include <assimp/Importer.hpp>
#include <assimp/LogStream.hpp>

#include "geometry/same_place.h"
#include "io/read/meshes/cut_polygon.h"
#include "io/read/meshes/stated_unit.h"

namespace standpoint {
namespace {

using Placement = Eigen::Affine3d;

Placement placement_of(const aiMatrix4x4& m) {
  Placement p;
  p.matrix() << m.a1, m.a2, m.a3, m.a4, m.b1, m.b2, m.b3, m.b4, m.c1, m.c2, m.c3, m.c4, 0, 0, 0, 1;
  return p;
}

/// A number that the importer holds as a float, as the decimal that was meant (0.01f is 0.01).
double decimal_of(float x) {
  return std::strtod(fmt::format("{}", x).c_str(), nullptr);
}

std::string importer_of(const aiScene& scene) {
  aiString name;
  if (scene.mMetaData != nullptr && scene.mMetaData->Get("SourceAsset_Format", name)) {
    return name.C_Str();
  }
  return {};
}

struct KnownImporter {
  std::string_view words;  ///< in what Assimp calls the importer
  std::string_view format;
};
constexpr std::array kKnownImporters = {
    KnownImporter{"STL", "STL"},         KnownImporter{"Wavefront", "OBJ"},
    KnownImporter{"PLY", "PLY"},         KnownImporter{"OFF", "OFF"},
    KnownImporter{"3mf", "3MF"},         KnownImporter{"glTF", "glTF"},
    KnownImporter{"Collada", "COLLADA"}, KnownImporter{"FBX", "FBX"},
    KnownImporter{"AMF", "AMF"},         KnownImporter{"X3D", "X3D"},
    KnownImporter{"Industry", "IFC"},
};

std::string format_of(const aiScene& scene, const std::filesystem::path& file) {
  const std::string importer = importer_of(scene);
  for (const KnownImporter& known : kKnownImporters) {
    if (importer.find(known.words) != std::string::npos) {
      return std::string(known.format);
    }
  }
  std::string extension = file.extension().string();
  std::transform(extension.begin(), extension.end(), extension.begin(),
                 [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  return extension.substr(std::min<std::size_t>(1, extension.size()));
}

/// What the file says of its unit and axes, and what the importer has put on the root for it.
struct Conventions {
  std::optional<double> mm_per_unit;
  char up_axis = ' ';
  Placement root = Placement::Identity();  ///< what is to stay of the root's transformation
};

/// COLLADA and IFC: the importer turns the file's up axis to +Y and its unit to the metre on the
/// root node. Both are read off there and undone.
Conventions undone_conversion(const aiScene& scene) {
  Conventions result;
  const Placement root = placement_of(scene.mRootNode->mTransformation);
  const Mat3 turn_and_scale = root.linear();
  // The importer's floats, as the decimal that was meant.
  const double scale =
      decimal_of(static_cast<float>(std::cbrt(std::abs(turn_and_scale.determinant()))));
  if (!(scale > 0)) {
    result.root = root;
    return result;
  }
  // The file's up axis is what the root turns into +Y.
  Eigen::Index up = 0;
  turn_and_scale.row(1).maxCoeff(&up);
  result.up_axis = "XYZ"[up];
  result.mm_per_unit = 1000 * scale;
  Mat3 turn;
  turn.row(1) = Vec3::Unit(up);
  turn.row(0) = up == 0 ? Vec3(-Vec3::UnitY()) : Vec3(Vec3::UnitX());
  turn.row(2) = turn.row(0).cross(turn.row(1));
  // What is left is the root's own placement, mostly none; the rest of it is the floats' noise.
  result.root.linear() = (turn.transpose() * turn_and_scale / scale).unaryExpr([](double x) {
    return std::abs(x - std::round(x)) < 1e-6 ? std::round(x) : x;
  });
  result.root.translation() = turn.transpose() * root.translation() / scale;
  return result;
}

Conventions conventions_of(const aiScene& scene, const std::string& format,
                           const std::filesystem::path& file) {
  if (format == "COLLADA" || format == "IFC") {
    return undone_conversion(scene);
  }
  Conventions result;
  result.root = placement_of(scene.mRootNode->mTransformation);
  if (format == "glTF" || format == "X3D") {
    // glTF 2.0 section 3.4: metres, +Y up. X3D (ISO/IEC 19775-1) 4.3.6: the same.
    result.mm_per_unit = 1000;
    result.up_axis = 'Y';
  } else if (format == "3MF" || format == "AMF") {
    result.mm_per_unit = stated_unit_of_print_file(file);
  } else if (format == "FBX" && scene.mMetaData != nullptr) {
    double centimetres = 0;
    float rounded = 0;
    if (scene.mMetaData->Get("UnitScaleFactor", centimetres)) {
      result.mm_per_unit = 10 * centimetres;
    } else if (scene.mMetaData->Get("UnitScaleFactor", rounded)) {
      result.mm_per_unit = 10 * decimal_of(rounded);
    }
    int axis = -1;
    if (scene.mMetaData->Get("UpAxis", axis) && axis >= 0 && axis < 3) {
      result.up_axis = "XYZ"[axis];
    }
  }
  if (result.mm_per_unit && !(*result.mm_per_unit > 0 && std::isfinite(*result.mm_per_unit))) {
    result.mm_per_unit.reset();
  }
  return result;
}

/// Importers make up names in angle brackets where the file has none.
bool is_name(const aiString& s) {
  return s.length > 0 && s.C_Str()[0] != '<';
}

std::string name_of(const aiScene& scene, const aiNode& node, const aiMesh& mesh,
                    std::size_t number) {
  if (is_name(mesh.mName)) {
    return mesh.mName.C_Str();
  }
  if (is_name(node.mName)) {
    return node.mName.C_Str();
  }
  if (mesh.mMaterialIndex < scene.mNumMaterials) {
    const aiString material = scene.mMaterials[mesh.mMaterialIndex]->GetName();
    if (is_name(material) && std::string_view(material.C_Str()) != AI_DEFAULT_MATERIAL_NAME) {
      return material.C_Str();
    }
  }
  return fmt::format("mesh {}", number);
}

/// Gathers the meshes of a scene into one.
class Gatherer {
 public:
  Gatherer(const aiScene& scene, RawBody& body) : scene_(scene), body_(body) {}

  /// Adds a node's meshes and those below it. Returns a sentence where they do not fit together.
  std::optional<std::string> add_all(const Placement& root) {
    std::vector<std::pair<const aiNode*, Placement>> waiting = {{scene_.mRootNode, root}};
    while (!waiting.empty()) {
      const auto [node, placement] = waiting.back();
      waiting.pop_back();
      for (unsigned i = 0; i < node->mNumMeshes; ++i) {
        if (node->mMeshes[i] >= scene_.mNumMeshes) {
          return "it refers to a mesh that is not in it";
        }
        if (auto fault = add(*node, *scene_.mMeshes[node->mMeshes[i]], placement)) {
          return fault;
        }
      }
      for (unsigned i = node->mNumChildren; i-- > 0;) {  // so that the first is taken first
        const aiNode* child = node->mChildren[i];
        waiting.emplace_back(child, placement * placement_of(child->mTransformation));
      }
    }
    return std::nullopt;
  }

 private:
  std::optional<std::string> add(const aiNode& node, const aiMesh& mesh,
                                 const Placement& placement) {
    Mesh& out = body_.mesh;
    if (out.vertices.size() + mesh.mNumVertices > std::numeric_limits<std::uint32_t>::max() - 1) {
      return "it has more than 4 294 967 294 vertices";
    }
    const auto first = static_cast<std::uint32_t>(out.vertices.size());
    out.vertices.reserve(out.vertices.size() + mesh.mNumVertices);
    for (unsigned i = 0; i < mesh.mNumVertices; ++i) {
      const aiVector3D& v = mesh.mVertices[i];
      out.vertices.push_back(placement * Vec3(v.x, v.y, v.z));
    }
    const bool mirrored = placement.linear().determinant() < 0;
    const auto face = static_cast<std::uint32_t>(out.face_names.size());
    out.face_names.push_back(name_of(scene_, node, mesh, face + 1));
    out.triangles.reserve(out.triangles.size() + mesh.mNumFaces);
    for (unsigned i = 0; i < mesh.mNumFaces; ++i) {
      const aiFace& polygon = mesh.mFaces[i];
      if (std::any_of(polygon.mIndices, polygon.mIndices + polygon.mNumIndices,
                      [&](unsigned corner) { return corner >= mesh.mNumVertices; })) {
        return "a triangle refers to a vertex that is not in it";
      }
      add_polygon(polygon, first, mirrored);
    }
    out.face_of_triangle.resize(out.triangles.size(), face);
    return std::nullopt;
  }

  void add_polygon(const aiFace& polygon, std::uint32_t first, bool mirrored) {
    const auto put = [&](unsigned a, unsigned b, unsigned c) {
      if (mirrored) {
        std::swap(b, c);
      }
      body_.mesh.triangles.push_back({first + a, first + b, first + c});
    };
    const unsigned* corner = polygon.mIndices;
    if (polygon.mNumIndices == 3) {
      put(corner[0], corner[1], corner[2]);
    } else if (polygon.mNumIndices > 3) {
      std::vector<Vec3> places;
      for (unsigned i = 0; i < polygon.mNumIndices; ++i) {
        places.push_back(body_.mesh.vertices[first + corner[i]]);
      }
      if (!std::all_of(places.begin(), places.end(), [](const Vec3& p) { return p.allFinite(); })) {
        places.assign(places.size(), Vec3::Zero());  // told of later; any cut names its vertices
      }
      const CutPolygon cut = cut_polygon(places);
      body_.fanned_polygons += cut.is_fan ? 1 : 0;
      for (const auto& t : cut.triangles) {
        put(corner[t[0]], corner[t[1]], corner[t[2]]);
      }
    }
  }

  const aiScene& scene_;
  RawBody& body_;
};

/// Listens for what importers say in passing of faces that they leave out. A surface that is
/// silently less than its file would let beams through that are blocked.
class LossListener : public Assimp::LogStream {
 public:
  explicit LossListener(std::string& first_loss) : first_loss_(first_loss) {}

  void write(const char* message) override {
    const std::string_view said = message;
    const auto says = [&](std::string_view words) {
      return said.find(words) != std::string_view::npos;
    };
    const bool is_loss = (says("dropped") && !says("LINES") && !says("POINTS")) ||
                         says("Faces with zero indices") || says("number of faces in the header");
    if (is_loss && first_loss_.empty()) {
      first_loss_ = said;
    }
  }

 private:
  std::string& first_loss_;
};

/// Assimp's log, which is one for the whole process, for as long as this lives.
class Listening {
 public:
  explicit Listening(std::string& first_loss) : listener_(first_loss) {
    Assimp::DefaultLogger::create("", Assimp::Logger::NORMAL, 0);
    Assimp::DefaultLogger::get()->attachStream(&listener_,
                                               Assimp::Logger::Warn | Assimp::Logger::Err);
  }
  ~Listening() {
    Assimp::DefaultLogger::get()->detachStream(&listener_,
                                               Assimp::Logger::Warn | Assimp::Logger::Err);
    Assimp::DefaultLogger::kill();
  }
  Listening(const Listening&) = delete;
  Listening& operator=(const Listening&) = delete;

 private:
  LossListener listener_;
};

/// Opens files of one folder alone, and keeps the first other that an importer asks for.
class FilesWithin : public Assimp::DefaultIOSystem {
 public:
  FilesWithin(std::filesystem::path folder, std::string& first_outside)
      : folder_(folder.lexically_normal()), first_outside_(first_outside) {}

  bool Exists(const char* file) const override {
    return is_inside(file) && DefaultIOSystem::Exists(file);
  }
  Assimp::IOStream* Open(const char* file, const char* mode) override {
    return is_inside(file) ? DefaultIOSystem::Open(file, mode) : nullptr;
  }

 private:
  bool is_inside(const std::filesystem::path& file) const {
    const std::filesystem::path inside = file.lexically_normal().lexically_relative(folder_);
    if (!inside.empty() && *inside.begin() != "..") return true;
    if (first_outside_.empty()) first_outside_ = file.filename().string();
    return false;
  }

  std::filesystem::path folder_;
  std::string& first_outside_;
};

std::string one_line(std::string text) {
  constexpr std::size_t kMost = 200;
  for (char& c : text) {
    if (static_cast<unsigned char>(c) < ' ') {
      c = ' ';
    }
  }
  return text.size() > kMost ? text.substr(0, kMost) + "..." : text;
}

}  // namespace

bool is_mesh_extension(std::string_view extension) {
  if (extension == ".stp" || extension == ".step" || extension == ".assbin") {
    return false;
  }
  const Assimp::Importer importer;
  return importer.IsExtensionSupported(std::string(extension));
}

tl::expected<RawBody, std::string> read_mesh(const std::filesystem::path& file,
                                             const std::filesystem::path& within) {
  std::string first_loss, first_outside;
  const Listening listening(first_loss);
  Assimp::Importer importer;
  if (!within.empty()) importer.SetIOHandler(new FilesWithin(within, first_outside));  // it owns it
  // Else a file of bones alone, or one it did not understand, comes with a surface made up for it.
  importer.SetPropertyBool(AI_CONFIG_IMPORT_NO_SKELETON_MESHES, true);
  const aiScene* scene = importer.ReadFile(file.string(), 0);
  if (!first_outside.empty()) {
    return tl::unexpected("it names a file outside of the packed scene: \"" +
                          one_line(first_outside) + "\"");
  }
  if (scene == nullptr || scene->mRootNode == nullptr) {
    const std::string why = importer.GetErrorString();
    if (why.find("bad_alloc") != std::string::npos) {
      throw std::bad_alloc();  // Assimp makes a sentence of it
    }
    return tl::unexpected("it cannot be read: " +
                          (why.empty() ? "its importer gives no reason" : one_line(why)));
  }
  if (!first_loss.empty()) {
    return tl::unexpected("its importer leaves out part of it, saying: " + one_line(first_loss));
  }
  RawBody body;
  body.format = format_of(*scene, file);
  const Conventions conventions = conventions_of(*scene, body.format, file);
  body.stated_mm_per_unit = conventions.mm_per_unit;
  body.up_axis = conventions.up_axis;
  if (auto fault = Gatherer(*scene, body).add_all(conventions.root)) {
    return tl::unexpected(*fault);
  }
  importer.FreeScene();
  join_equal_vertices(body.mesh);
  return body;
}

}  // namespace standpoint
