/** Who may do what, asked by the server before it acts and by the web before it offers a button. */
export const ROLES = { admin: 'Admin', office: 'Office', technician: 'Technician' } as const
export type Role = keyof typeof ROLES

interface Someone {
  id: string
  role: Role
}

export const isOffice = (user: Someone): boolean => user.role === 'admin' || user.role === 'office'

export const mayManagePeople = (user: Someone): boolean => user.role === 'admin'
export const mayChangeSettings = (user: Someone): boolean => user.role === 'admin'
export const mayChangePrices = (user: Someone): boolean => user.role === 'admin'

/** Technicians see the visits that are theirs; the office sees all. */
export const maySeeVisit = (user: Someone, visit: { technicianId: string }): boolean =>
  isOffice(user) || visit.technicianId === user.id

export const mayWorkOnVisit = maySeeVisit

/** The one who was there fills in the sheet; the office may complete what a technician left open. */
export const mayFillInspection = (user: Someone, inspection: { technicianId: string }): boolean =>
  isOffice(user) || inspection.technicianId === user.id

export const mayIssueReport = mayFillInspection
